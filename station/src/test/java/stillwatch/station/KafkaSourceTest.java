package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Future;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.NewPartitions;
import org.apache.kafka.clients.admin.NewTopic;
import org.apache.kafka.clients.admin.RecordsToDelete;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.apache.kafka.common.serialization.StringSerializer;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInfo;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.station.broker.EmbeddedBroker;
import stillwatch.station.broker.SecuredBroker;

/** A topic of another broker, which wants TLS and a password. */
@Timeout(300)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class KafkaSourceTest {
  private static final int SPOILT = Integer.getInteger("stillwatch.spoilt", 3000);
  private static final int READINGS = Integer.getInteger("stillwatch.readings", 3000);
  private static final Instant FROM = Instant.parse("2026-03-08T06:00:00Z");

  private final Path all;
  private final EmbeddedBroker own;
  private final EmbeddedBroker theirs;
  private final Bus bus;
  private final FollowedLog log;
  private final Admin admin;
  private final KafkaProducer<String, byte[]> sender;
  private Path folder;
  private String topic = "";
  private Instant first = FROM;
  private int days;

  KafkaSourceTest(@TempDir Path all) throws Exception {
    this.all = all;
    folder = all;
    own = EmbeddedBroker.start(all.resolve("own")).get();
    theirs = SecuredBroker.start(Files.createDirectories(all.resolve("theirs")), "plant", "key");
    bus = KafkaBus.open(new BusSettings(own.bootstrap(), Map.of()));
    log = FollowedLog.of(bus);
    Properties client = new Properties();
    client.load(new StringReader(client("key")));
    client.put("bootstrap.servers", theirs.bootstrap());
    admin = Admin.create(client);
    sender = new KafkaProducer<>(client, new StringSerializer(), new ByteArraySerializer());
  }

  private String client(String password) {
    return """
    security.protocol=SASL_SSL
    sasl.mechanism=PLAIN
    sasl.jaas.config=org.apache.kafka.common.security.plain.PlainLoginModule required username="plant" password="%s";
    ssl.truststore.type=PEM
    ssl.truststore.location=%s
    """
        .formatted(password, all.resolve("theirs").resolve("broker.crt"));
  }

  @BeforeEach
  void anew(TestInfo test) throws Exception {
    topic = test.getTestMethod().orElseThrow().getName();
    folder = Files.createDirectories(all.resolve(topic));
    first = FROM.plus(Duration.ofDays(++days)); // the same readings twice are known again
    Files.writeString(folder.resolve("client.properties"), client("key"));
    Map<String, String> kept = Map.of("retention.ms", "-1"); // what is stamped months ago too
    admin.createTopics(List.of(new NewTopic(topic, 1, (short) 1).configs(kept))).all().get();
  }

  @AfterAll
  void close() throws Exception {
    sender.close(Duration.ZERO);
    admin.close(Duration.ZERO);
    log.close();
    bus.close();
    theirs.close();
    own.close();
  }

  /** The example of the documents, at this test's broker and topic. */
  private String example() throws Exception {
    String doc = Files.readString(Path.of("../docs/adapters.md"));
    int from = doc.indexOf("sources:\n  kafka:");
    return doc.substring(from, doc.indexOf("```", from))
        .replace("kafka.example:9093", theirs.bootstrap())
        .replace("/etc/stillwatch/plant.properties", folder + "/client.properties")
        .replace("plant.readings", topic)
        .replace("start: newest", "start: \"2026-03-08T06:00:00Z\"");
  }

  /** Another than the example's form. */
  private String plain(String keys) throws Exception {
    String example = example();
    return example.substring(0, example.indexOf("      form:")) + "      " + keys + "\n";
  }

  private Intaking open(String sources) throws Exception {
    return Intaking.open(folder, Intaking.plan(folder, sources), bus, Trust.usual());
  }

  private Future<?> send(String key, byte @Nullable [] value, Instant at) {
    return sender.send(new ProducerRecord<>(topic, 0, at.toEpochMilli(), key, value));
  }

  private void send(String key, String value) throws Exception {
    send(key, value.getBytes(StandardCharsets.UTF_8), first).get();
  }

  /** What the log has of a gauge of this test's day, by the ms since it began. */
  private List<String> says(String gauge) {
    long fromMs = first.toEpochMilli();
    return log.now(gauge).stream()
        .filter(f -> f.atMs() >= fromMs && f.atMs() < fromMs + 86_400_000)
        .map(f -> f.atMs() - fromMs + " " + Math.round(f.values()[0]) + " " + f.qualities()[0])
        .toList();
  }

  private String json(long afterMs, double value) {
    return "{\"tag\":\"CAP.P1\",\"at\":\"%s\",\"value\":%s,\"quality\":\"good\"}"
        .formatted(first.plusMillis(afterMs), value);
  }

  @Test
  void theExampleOfTheDocuments() throws Exception {
    first = FROM;
    String doc = Files.readString(Path.of("../docs/adapters.md"));
    int from = doc.indexOf("{\"tag\":");
    send("any", doc.substring(from, doc.indexOf('`', from)));
    send("any", json(1000, 469.1).replace("P1", "P2").replace("good", "uncertain"));
    try (Intaking intaking = open(example())) {
      Intaking.until("both are there", () -> says("PT-2").size() == 1);
      assertThat(says("PT-1")).contains("0 46900 0"); // and spoilt messages of another test
      assertThat(says("PT-2")).containsExactly("1000 46910 1");
      assertThat(intaking.state().fault()).isEmpty();
    }
  }

  @Test
  void theKeyNamesTheGaugeAndTheRecordSaysWhenOfAPlainNumber() throws Exception {
    send("P1", "46.9".getBytes(StandardCharsets.UTF_8), first.plusMillis(500)).get();
    send("P7", "46.9");
    send("P1", (byte[]) null, first).get();
    send("P2", "46.8");
    try (Intaking intaking = open(plain("gauges: {P1: PT-1, P2: PT-2}\n      unit: MPa"))) {
      Intaking.until("the last is there", () -> says("PT-2").size() == 1);
      assertThat(says("PT-1")).containsExactly("500 46900 0");
      assertThat(intaking.state().refused())
          .isEqualTo(Map.of("unknown-gauge", 1L, "bad-value", 1L));
    }
  }

  @Test
  void linesAreTakenAsTheyAreByHttp() throws Exception {
    String line =
        "{\"well\":\"larkspur-2\",\"at\":\"%s\",\"values\":{\"PT-1\":46900,\"PT-2\":46890}}";
    send("any", line.formatted(first) + "\n" + line.formatted(first.plusMillis(1000)));
    try (Intaking intaking = open(plain("form: lines"))) {
      Intaking.until("both are taken", () -> intaking.state().taken() == 2);
    }
  }

  @Test
  void whatCameBeforeItWasFirstAskedIsNotReadWhereItBeginsAtTheNewest() throws Exception {
    send("any", json(0, 469.0));
    String newest = example().replaceAll("start: .*", "start: newest");
    try (Intaking intaking = open(newest)) {
      Intaking.until("it is there", () -> intaking.state().connected());
      send("any", json(1000, 469.1));
      Intaking.until("the next is there", () -> says("PT-1").size() == 1);
    }
    send("any", json(2000, 469.2)); // nobody is there, and it is not forgotten
    admin.createPartitions(Map.of(topic, NewPartitions.increaseTo(2))).all().get();
    byte[] inNew = json(3000, 469.3).getBytes(StandardCharsets.UTF_8);
    sender.send(new ProducerRecord<>(topic, 1, "any", inNew)).get();
    try (Intaking intaking = open(newest)) {
      Intaking.until("all are there", () -> says("PT-1").size() == 3);
      assertThat(says("PT-1"))
          .containsExactlyInAnyOrder("1000 46910 0", "2000 46920 0", "3000 46930 0");
      assertThat(intaking.state().again()).isZero(); // their broker knew how far it was read
    }
  }

  @Test
  void whatTheBrokerHasDroppedIsTold() throws Exception {
    send("any", json(0, 469.0));
    try (Intaking intaking = open(example())) {
      Intaking.until("the first is there", () -> says("PT-1").size() == 1);
    }
    send("any", json(1000, 469.1));
    send("any", json(2000, 469.2));
    admin
        .deleteRecords(Map.of(new TopicPartition(topic, 0), RecordsToDelete.beforeOffset(2)))
        .all()
        .get();
    try (Intaking intaking = open(example())) {
      Intaking.until("the last is there", () -> says("PT-1").size() == 2);
      assertThat(intaking.state().refused()).isEqualTo(Map.of("incomplete", 1L));
    }
  }

  @Test
  void whatIsWrongIsToldInOneSentence() throws Exception {
    String example = example();
    Path other = Files.createDirectories(folder.resolve("other"));
    String away = example.replace(theirs.bootstrap(), "127.0.0.1:1");
    try (Intaking down = Intaking.open(other, Intaking.plan(other, away), bus, Trust.usual())) {
      tellAll(example);
      Intaking.until("it says so", () -> down.state().fault().contains("does not answer"));
    }
  }

  private void tellAll(String example) throws Exception {
    tells(example.replace("topic: " + topic, "topic: nowhere"), "has no topic nowhere");
    tells(example.replaceAll("client-properties: .*", ""), "wants TLS");
    Files.writeString(folder.resolve("client.properties"), client("lock"));
    tells(example, "does not let this watch in");
    Files.writeString(
        folder.resolve("client.properties"),
        "ssl.truststore.type=none\n" + client("key").replace("PEM", "none"));
    tells(example, "correct client-properties");
    Files.delete(folder.resolve("client.properties"));
    tells(example, "cannot be read as a properties file");
  }

  private void tells(String sources, String part) throws Exception {
    try (Intaking intaking = open(sources)) {
      Intaking.until("it says " + part, () -> intaking.state().fault().contains(part));
      assertThat(intaking.state().connected()).isFalse();
    }
  }

  @Test
  void eachReadingIsInTheLogOnceAndInOrderWhateverIsKilled() throws Exception {
    Files.writeString(
        folder.resolve("plan.yaml"),
        Files.readString(WatchProcess.LARKSPUR.resolve("plan.yaml")) + "\n" + example());
    List<String> gauges = List.of("PT-1");
    CompletableFuture<Void> sending = new CompletableFuture<>();
    int had = log.now("PT-1").size();
    WatchProcess watch = watch();
    try {
      for (int i = 0; i < READINGS; i++) {
        var unused =
            send("any", json(i * 1000L, 460 + i / 100.0).getBytes(StandardCharsets.UTF_8), first);
      }
      sender.flush();
      log.has(had + READINGS / 4, gauges, sending);
      watch.kill();
      watch = watch();
      log.has(had + READINGS, gauges, sending);
    } finally {
      watch.stop();
    }
    List<Frame> frames = log.now("PT-1").subList(had, log.frames("PT-1").size());
    assertThat(frames).hasSize(READINGS);
    for (int i = 0; i < READINGS; i++) {
      assertThat(frames.get(i).atMs()).isEqualTo(first.toEpochMilli() + i * 1000L);
      assertThat(Math.round(frames.get(i).values()[0])).isEqualTo(46_000 + i);
    }
  }

  private WatchProcess watch() throws Exception {
    return WatchProcess.at(own.bootstrap(), folder.resolve("plan.yaml"), folder.resolve("data"));
  }

  @Test
  void spoiltMessagesAreRefusedWithAReasonAndNoneEndsTheSource() throws Exception {
    Random random = new Random(26);
    byte[] good = json(0, 469.0).getBytes(StandardCharsets.UTF_8);
    for (int i = 0; i < SPOILT; i++) {
      var unused = send("any", MqttSourceTest.spoilt(good, random), first);
    }
    send("any", json(80_000_000, 469.9));
    try (Intaking intaking = open(example())) {
      Intaking.until("the last is there", () -> says("PT-1").contains("80000000 46990 0"));
      SourceHealth.State state = intaking.state();
      long refused = state.refused().values().stream().mapToLong(Long::longValue).sum();
      assertThat(refused + state.taken() + state.again()).isGreaterThanOrEqualTo(SPOILT + 1);
      assertThat(state.refused().keySet())
          .contains("not-json", "bad-time", "bad-value", "unknown-gauge");
      assertThat(state.reconnects()).isZero();
    }
  }
}

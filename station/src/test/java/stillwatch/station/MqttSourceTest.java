package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.hivemq.client.mqtt.MqttClient;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.mqtt3.Mqtt3BlockingClient;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.security.cert.X509Certificate;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import nl.altindag.ssl.pem.util.PemUtils;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.station.broker.EmbeddedBroker;

/** An MQTT broker that asks who comes, allows some, and hands on what is no reading. */
@Timeout(300)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class MqttSourceTest {
  private static final int SPOILT = Integer.getInteger("stillwatch.spoilt", 3000);

  private final Path folder;
  private final int plain = freePort();
  private final int secured = freePort();
  private final int guarded = freePort();
  private final X509Certificate broker;
  private final MqttPeer peer;
  private final EmbeddedBroker kafka;
  private final Bus bus;
  private final FollowedLog log;

  MqttSourceTest(@TempDir Path folder) throws Exception {
    this.folder = folder;
    Instant until = Instant.now().plus(Duration.ofDays(30));
    broker = Pem.make(folder, "broker", until);
    X509Certificate watch = Pem.make(folder, "watch", until);
    Pem.make(folder, "stranger", until);
    peer =
        MqttPeer.listening(
            folder.resolve("peer"),
            MqttPeer.plain(plain)
                + tls(secured, "NONE", store("broker", broker), store("known", watch))
                + tls(guarded, "REQUIRED", store("broker", broker), store("known", watch)));
    kafka = EmbeddedBroker.start(folder.resolve("kafka")).get();
    bus = KafkaBus.open(new BusSettings(kafka.bootstrap(), Map.of()));
    log = FollowedLog.of(bus);
  }

  @AfterAll
  void close() throws Exception {
    log.close();
    bus.close();
    kafka.close();
    peer.close();
  }

  static int freePort() throws Exception {
    try (ServerSocket s = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      return s.getLocalPort();
    }
  }

  /** A store of that certificate, and of its key where its file is there under that name. */
  private Path store(String name, X509Certificate certificate) throws Exception {
    KeyStore made = KeyStore.getInstance("PKCS12");
    made.load(null, null);
    Path key = folder.resolve(name + ".key");
    if (Files.exists(key)) {
      made.setKeyEntry(
          name,
          PemUtils.loadPrivateKey(key),
          MqttPeer.PASSWORD.toCharArray(),
          new Certificate[] {certificate});
    } else {
      made.setCertificateEntry(name, certificate);
    }
    Path file = folder.resolve(name + ".p12");
    try (var out = Files.newOutputStream(file)) {
      made.store(out, MqttPeer.PASSWORD.toCharArray());
    }
    return file;
  }

  private static String tls(int port, String client, Path own, Path known) {
    return """
        <tls-tcp-listener><port>%1$d</port><bind-address>127.0.0.1</bind-address><tls>
        <keystore><path>%3$s</path><password>%5$s</password><private-key-password>%5$s</private-key-password></keystore>
        <truststore><path>%4$s</path><password>%5$s</password></truststore>
        <client-authentication-mode>%2$s</client-authentication-mode></tls></tls-tcp-listener>
        """
        .formatted(port, client, own, known, MqttPeer.PASSWORD);
  }

  private Trust trusting() throws Exception {
    KeyStore known = KeyStore.getInstance("PKCS12");
    known.load(null, null);
    known.setCertificateEntry("broker", broker);
    return Trust.in(known);
  }

  /** A source of this name in a folder of its own, with further keys. */
  private Intaking source(String name, String server, String more, Trust trust) throws Exception {
    Path its = Files.createDirectories(folder.resolve(name));
    return Intaking.open(
        its,
        Intaking.plan(
            its,
            """
            sources:
              mqtt:
                - name: %s
                  server: "%s"
                  %s
            """
                .formatted(name, server, more.strip().replace("\n", "\n      "))),
        bus,
        trust);
  }

  private static Mqtt3BlockingClient logger(int port) {
    Mqtt3BlockingClient logger =
        MqttClient.builder()
            .useMqttVersion3()
            .identifier("logger")
            .serverHost("127.0.0.1")
            .serverPort(port)
            .buildBlocking();
    logger.connect();
    return logger;
  }

  private static void send(Mqtt3BlockingClient logger, String topic, byte[] payload) {
    logger.publishWith().topic(topic).qos(MqttQos.AT_LEAST_ONCE).payload(payload).send();
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  private static void connected(Intaking intaking) {
    Intaking.until("it is connected", () -> intaking.state().connected());
  }

  private void inTheLog(String gauge, double value) {
    Intaking.until(
        gauge + " is in the log",
        () -> log.now(gauge).stream().anyMatch(f -> f.values()[0] == value));
  }

  /** What the node says is made by Eclipse Tahu; by aliases alone once it is born. */
  @Test
  void anEdgeNodeOfSparkplugIsAskedForItsBirthAndItsDeathSilencesItsGauges() throws Exception {
    String form =
        """
        version: 5
        topics:
          - topic: "spBv1.0/larkspur/+/gateway/#"
            form: sparkplug
            gauges: {cap/port: PT-1, cap/starboard: PT-2, rams: TT-1}
        """;
    long since = System.currentTimeMillis(); // others have their readings in this log too
    try (EdgeNode node = EdgeNode.at(plain);
        Intaking intaking = source("sparkplug", "tcp://127.0.0.1:" + plain, form, Trust.usual())) {
      inTheLog("PT-1", 46_900.5);
      inTheLog("PT-2", 46_890);
      inTheLog("TT-1", -4.5);
      Intaking.until("all are there", () -> intaking.state().fault().isEmpty());
      node.says(EdgeNode.PORT, 46_901.5);
      inTheLog("PT-1", 46_901.5);
      node.saysNothing(EdgeNode.STARBOARD);
      Intaking.until("PT-2 has no value", () -> bad("PT-2", since) == 1);
      node.says(EdgeNode.RAMS, 4.25f, 0);
      Intaking.until("TT-1 is bad", () -> bad("TT-1", since) == 1);
      assertThat(node.births()).isEqualTo(1);
      node.loses();
      node.says(EdgeNode.PORT, 46_902.5);
      inTheLog("PT-1", 46_902.5); // by the birth that it was asked for
      assertThat(node.births()).isEqualTo(2);
      assertThat(intaking.state().refused()).containsEntry("incomplete", 1L);
      node.deviceDies();
      Intaking.until(
          "the device is gone", () -> intaking.state().fault().contains("its device cap is gone"));
      Intaking.until("PT-1 is bad", () -> bad("PT-1", since) == 1);
      assertThat(bad("TT-1", since)).isEqualTo(1);
      node.dies();
      Intaking.until(
          "the node is gone",
          () -> intaking.state().fault().contains("TT-1: the edge node is gone"));
      Intaking.until("TT-1 is bad again", () -> bad("TT-1", since) == 2);
    }
  }

  private long bad(String gauge, long since) {
    return log.now(gauge).stream()
        .filter(f -> f.receivedMs() >= since)
        .filter(f -> f.qualities()[0] == Quality.BAD.code() && Double.isNaN(f.values()[0]))
        .count();
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 5})
  void overTlsItShowsItsCertificateUserAndPassword(int version) throws Exception {
    Path password = Files.writeString(folder.resolve("secret"), MqttPeer.PASSWORD + "\n");
    String asked =
        """
        version: %d
        user: watch
        password-file: %s
        certificate-file: %s
        key-file: %s
        topics: [{topic: secured/%1$d, gauge: TT-1}]
        """
            .formatted(version, password, folder.resolve("watch.crt"), folder.resolve("watch.key"));
    try (Intaking intaking =
        source("secured-" + version, "ssl://127.0.0.1:" + guarded, asked, trusting())) {
      connected(intaking);
      Mqtt3BlockingClient logger = logger(plain);
      send(logger, "secured/" + version, bytes("4." + version));
      inTheLog("TT-1", 4 + version / 10.0);
      logger.disconnect();
    }
  }

  @Test
  void aLookInPassingTakesNothingFromTheWatch() throws Exception {
    String topics = "topics: [{topic: looked/at, gauge: TT-1, unit: Cel}]";
    String server = "tcp://127.0.0.1:" + plain;
    try (Intaking intaking = source("looked", server, topics, Trust.usual())) {
      connected(intaking);
    }
    Mqtt3BlockingClient logger = logger(plain);
    send(logger, "looked/at", bytes("7.5")); // which the broker keeps for the watch
    CompletableFuture<Integer> look =
        CompletableFuture.supplyAsync(
            () ->
                Main.run(
                    "sources",
                    "--plan",
                    folder.resolve("looked/plan.yaml").toString(),
                    "--for",
                    "60"));
    while (!look.isDone()) {
      send(logger, "looked/at", bytes("8.5"));
    }
    assertThat(look.get()).isZero();
    try (Intaking intaking = source("looked", server, topics, Trust.usual())) {
      inTheLog("TT-1", 7.5);
      inTheLog("TT-1", 8.5);
    }
    logger.disconnect();
  }

  @Test
  void whyABrokerTakesNobodyIsSaidInOneLine() throws Exception {
    Path wrong = Files.writeString(folder.resolve("wrong"), "something else");
    String topics = "\ntopics: [{topic: some, gauge: TT-1}]";
    String tls = "ssl://127.0.0.1:";
    String stranger =
        "certificate-file: %s\nkey-file: %s"
            .formatted(folder.resolve("stranger.crt"), folder.resolve("stranger.key"));
    saysWhy("nobody", tls + secured, topics, Trust.usual(), "is not trusted here");
    saysWhy(
        "other-name",
        tls.replace("127.0.0.1", "localhost") + secured,
        topics,
        trusting(),
        "is not trusted here");
    saysWhy("without", tls + guarded, topics, trusting(), "give one that it trusts");
    saysWhy("stranger", tls + guarded, stranger + topics, trusting(), "give one that it trusts");
    saysWhy(
        "no-file",
        tls + guarded,
        stranger.replace("stranger.key", "none.key") + topics,
        trusting(),
        "none.key cannot be read");
    saysWhy(
        "password",
        "tcp://127.0.0.1:" + plain,
        "user: watch\npassword-file: " + wrong + topics,
        Trust.usual(),
        "correct user, password");
  }

  private void saysWhy(String name, String server, String more, Trust trust, String why)
      throws Exception {
    try (Intaking intaking = source(name, server, more, trust)) {
      Intaking.until(
          name + " says why", () -> !intaking.state().fault().contains("has not been reached yet"));
      assertThat(intaking.state().fault()).contains(why).doesNotContain("\n");
      assertThat(intaking.state().connected()).isFalse();
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 5})
  void aForbiddenTopicIsToldWithItsGaugeAndTheOthersGoOn(int version) throws Exception {
    String why = "does not allow the topic larkspur/forbidden of PT-2; have it allow that";
    String topics =
        """
        version: %d
        topics:
          - {topic: larkspur/forbidden, gauge: PT-2}
          - {topic: allowed/%1$d, gauge: TT-1}
        """
            .formatted(version);
    try (Intaking intaking =
        source("partly-" + version, "tcp://127.0.0.1:" + plain, topics, Trust.usual())) {
      connected(intaking);
      assertThat(intaking.state().fault()).contains(why).doesNotContain("TT-1");
      Mqtt3BlockingClient logger = logger(plain);
      send(logger, "allowed/" + version, bytes("5." + version));
      inTheLog("TT-1", 5 + version / 10.0);
      logger.disconnect();
    }
    String only = topics.substring(0, topics.indexOf("  - {topic: allowed"));
    saysWhy("only-" + version, "tcp://127.0.0.1:" + plain, only, Trust.usual(), why);
  }

  @Test
  void spoiltMessagesAreRefusedWithAReasonAndNoneEndsTheSource() throws Exception {
    String asked =
        """
        topics:
          - {topic: larkspur/cap/+/state, form: json, gauges: {port: PT-1, starboard: PT-2}, value: /pressure/value, time: /at, unit: MPa}
          - {topic: larkspur/rams/temperature, gauge: TT-1}
          - {topic: larkspur/lines, form: lines}
        """;
    try (Intaking intaking = source("gateway", "tcp://127.0.0.1:" + plain, asked, Trust.usual())) {
      connected(intaking);
      Mqtt3BlockingClient logger = logger(plain);
      Random random = new Random(18);
      String[] topics = {
        "larkspur/cap/port/state",
        "larkspur/cap/keel/state",
        "larkspur/rams/temperature",
        "larkspur/lines"
      };
      byte[] good = bytes("{\"at\":\"2026-03-08T06:00:00Z\",\"pressure\":{\"value\":46.9}}");
      for (int i = 0; i < SPOILT; i++) {
        send(logger, topics[random.nextInt(topics.length)], noNumber(spoilt(good, random)));
      }
      send(
          logger,
          "larkspur/cap/port/state",
          bytes("{\"at\":\"2026-03-08T06:00:01Z\",\"pressure\":{\"value\":46}}"));
      send(logger, "larkspur/rams/temperature", bytes("6.5"));
      inTheLog("TT-1", 6.5);
      SourceHealth.State state = intaking.state();
      assertThat(log.now("PT-1"))
          .extracting(Frame::atMs)
          .contains(Instant.parse("2026-03-08T06:00:01Z").toEpochMilli());
      assertThat(state.connected()).isTrue();
      assertThat(state.reconnects()).isZero();
      assertThat(state.refused().keySet())
          .contains("unknown-gauge", "bad-value", "not-json", "bad-time");
      long refused = state.refused().values().stream().mapToLong(Long::longValue).sum();
      assertThat(refused + state.taken() + state.again()).isEqualTo(SPOILT + 2);
      assertThat(refused).isGreaterThan(SPOILT / 2);
      logger.disconnect();
    }
  }

  /** A line with bytes changed, cut out or doubled; one line as well, and not blank. */
  static byte[] spoilt(byte[] good, Random random) {
    boolean slightly = random.nextBoolean();
    byte[] bytes =
        Arrays.copyOf(good, slightly ? good.length : 1 + random.nextInt(2 * good.length));
    for (int k = 0; k < (slightly ? 1 : 1 + random.nextInt(6)); k++) {
      bytes[random.nextInt(bytes.length)] =
          (byte) (slightly ? ' ' + random.nextInt(95) : random.nextInt(256));
    }
    for (int i = 0; i < bytes.length; i++) {
      bytes[i] = bytes[i] == '\n' ? (byte) '.' : bytes[i];
    }
    bytes[0] = bytes[0] <= ' ' ? (byte) '{' : bytes[0];
    return bytes;
  }

  private static byte[] noNumber(byte[] bytes) {
    bytes[0] = bytes[0] >= '0' && bytes[0] <= '9' ? (byte) '{' : bytes[0];
    return bytes;
  }
}

package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.hivemq.client.mqtt.MqttClient;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.mqtt3.Mqtt3BlockingClient;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.fieldbus.Cable;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.station.broker.EmbeddedBroker;

/**
 * Readings by both versions of MQTT, while the lines are cut with messages on their way and the
 * watch is killed.
 */
class MqttInFlightTest {
  private static final int READINGS = Integer.getInteger("stillwatch.readings", 3000);
  private static final int ROUNDS = Integer.getInteger("stillwatch.rounds", 1);
  private static final int EVENTS = 3 * ROUNDS; // a round is a cut, a kill, a cut
  private static final int BYTES = 120 * READINGS / EVENTS; // of a part of the readings, about
  private static final long FIRST_MS = Instant.parse("2026-03-08T06:00:00Z").toEpochMilli();
  private static final Map<String, Integer> VERSIONS = new TreeMap<>(Map.of("PT-1", 3, "PT-2", 5));

  @TempDir Path folder;

  /** The gauges' lines, in the order of their versions. */
  private Path plan(List<Cable> lines) throws Exception {
    StringBuilder text =
        new StringBuilder(Files.readString(WatchProcess.LARKSPUR.resolve("plan.yaml")))
            .append("\nsources:\n  mqtt:\n");
    Iterator<Cable> line = lines.iterator();
    VERSIONS.forEach(
        (gauge, version) ->
            text.append(
                """
                    - name: by-%2$s
                      server: "tcp://127.0.0.1:%3$s"
                      version: %2$s
                      topics:
                        - {topic: larkspur/%1$s, gauge: %1$s, form: json, value: /v, time: /at, quality: /q, unit: kPa}
                """
                    .formatted(gauge, version, line.next().port())));
    return Files.writeString(folder.resolve("plan.yaml"), text);
  }

  private WatchProcess watch(Path plan, EmbeddedBroker broker) throws Exception {
    return WatchProcess.at(broker.bootstrap(), plan, folder.resolve("data"));
  }

  private static String value(int i) {
    return "4" + (6000 + i % 1000) + "." + i % 10;
  }

  private static Quality quality(int i) {
    return i % 7 == 3 ? Quality.UNCERTAIN : Quality.GOOD;
  }

  /** One after the other; each again until the broker has said that it has it. */
  private static void send(Cable line, String gauge, Semaphore go) {
    Mqtt3BlockingClient peer =
        MqttClient.builder()
            .useMqttVersion3()
            .identifier("logger-" + gauge)
            .serverHost("127.0.0.1")
            .serverPort(line.port())
            .buildBlocking();
    for (int i = 0; i < READINGS; i++) {
      String json =
          "{\"at\":\"%s\",\"v\":%s,\"q\":\"%s\"}"
              .formatted(
                  Instant.ofEpochMilli(FIRST_MS + i * 1000L),
                  value(i),
                  quality(i) == Quality.GOOD ? "good" : "uncertain");
      go.acquireUninterruptibly();
      while (!confirmed(peer, "larkspur/" + gauge, json.getBytes(StandardCharsets.UTF_8))) {
        assertThat(Thread.currentThread().isInterrupted()).isFalse();
      }
    }
    peer.disconnect();
  }

  private static CompletableFuture<Void> sending(Cable line, String gauge, Semaphore go) {
    return CompletableFuture.runAsync(
        () -> send(line, gauge, go), command -> new Thread(command, "logger " + gauge).start());
  }

  private static boolean confirmed(Mqtt3BlockingClient peer, String topic, byte[] payload) {
    try {
      if (!peer.getState().isConnected()) {
        peer.connect();
      }
      peer.publishWith().topic(topic).qos(MqttQos.AT_LEAST_ONCE).payload(payload).send();
      return true;
    } catch (RuntimeException cut) {
      return false;
    }
  }

  private static void connected(WatchProcess watch) throws Exception {
    watch.state(
        s -> {
          List<Boolean> all = new ArrayList<>();
          s.path("sources").forEach(n -> all.add(n.path("connected").asBoolean()));
          return all.size() == VERSIONS.size() && !all.contains(false);
        });
  }

  /** Cuts it with messages on their way, and once more while those that have waited come. */
  private static void cutTwice(Cable line, Random random) {
    line.cutAfter(1 + random.nextInt(BYTES / 4), 100 + random.nextInt(BYTES / 4));
  }

  /** Adds what has come again since this watch began. */
  private static void count(WatchProcess watch, Map<String, Integer> again) throws Exception {
    watch
        .get("/api/state")
        .path("sources")
        .forEach(s -> again.merge(s.path("name").asText(), s.path("again").asInt(), Integer::sum));
  }

  @Test
  @Timeout(value = 1800, unit = TimeUnit.SECONDS)
  void eachReadingIsInTheLogOnceAndInOrderWhateverIsCutOrKilled() throws Exception {
    int port = MqttSourceTest.freePort();
    long seed = System.nanoTime();
    Random random = new Random(seed);
    try (MqttPeer peer = MqttPeer.listening(folder.resolve("peer"), MqttPeer.plain(port));
        EmbeddedBroker broker = EmbeddedBroker.start(folder.resolve("broker")).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()));
        Cable three = new Cable(port);
        Cable five = new Cable(port);
        Cable theirs = new Cable(port);
        FollowedLog log = FollowedLog.of(bus)) {
      List<Cable> lines = List.of(three, five);
      Path plan = plan(lines);
      WatchProcess watch = watch(plan, broker);
      Map<String, Integer> again = new TreeMap<>(); // by source, in every life of the watch
      try {
        connected(watch);
        List<Semaphore> go = List.of(new Semaphore(0), new Semaphore(0));
        Iterator<Semaphore> next = go.iterator();
        CompletableFuture<Void> sending =
            CompletableFuture.allOf(
                VERSIONS.keySet().stream()
                    .map(g -> sending(theirs, g, next.next()))
                    .toArray(CompletableFuture[]::new));
        for (int event = 0; event < EVENTS; event++) {
          int has = event * READINGS / EVENTS;
          int more = (event + 1) * READINGS / EVENTS - has;
          if (event % 3 != 1) {
            lines.forEach(l -> cutTwice(l, random));
          }
          go.forEach(g -> g.release(more));
          log.has(has + more / 4, VERSIONS.keySet(), sending);
          theirs.cut();
          if (event % 3 == 1) {
            count(watch, again);
            watch.kill();
            watch = watch(plan, broker);
          }
          log.has(has + more, VERSIONS.keySet(), sending);
        }
        count(watch, again);
        assertThat(again)
            .as("what came again, seed %d", seed)
            .hasSize(VERSIONS.size())
            .allSatisfy((source, times) -> assertThat(times).isPositive());
      } finally {
        watch.stop();
      }
      log.read();
      assertThat(log.others()).isEmpty();
      VERSIONS.keySet().forEach(gauge -> eachOnce(gauge, log.frames(gauge), seed));
      try (TopicReader rejects = bus.readerOfAll(Topics.REJECTS, Assignment.FROM_THE_START)) {
        assertThat(rejects.poll(Duration.ofSeconds(1))).isEmpty();
      }
    }
  }

  private static void eachOnce(String gauge, List<Frame> log, long seed) {
    for (int i = 0; i < READINGS; i++) {
      Frame f = log.get(i);
      assertThat(f.atMs()).as("%s %d, seed %d", gauge, i, seed).isEqualTo(FIRST_MS + i * 1000L);
      assertThat(f.values()).containsExactly(Double.parseDouble(value(i)));
      assertThat(f.qualities()).containsExactly(quality(i).code());
    }
    assertThat(log).as("%s, seed %d", gauge, seed).hasSize(READINGS);
  }
}

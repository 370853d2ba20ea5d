package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.hivemq.client.mqtt.MqttClient;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.mqtt3.Mqtt3BlockingClient;
import io.moquette.broker.Server;
import io.moquette.broker.config.MemoryConfig;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.Random;
import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.disk.Disk;
import stillwatch.ingest.door.SourceHealth;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.rules.plan.Plan;
import stillwatch.station.broker.EmbeddedBroker;
import stillwatch.station.option.PlanOption;
import stillwatch.station.run.Metrics;
import stillwatch.station.run.SourcesSide;
import stillwatch.station.run.SpooledIntake;
import stillwatch.station.run.Stage;

/** Readings by MQTT from a real broker into a real log. */
@Timeout(300)
class MqttSourceTest {
  private static final int BLOCK = 200;
  private static final int BLOCKS = Integer.getInteger("stillwatch.blocks", 3);
  private static final int SPOILT = Integer.getInteger("stillwatch.spoilt", 3000);
  private static final long FIRST_MS = Instant.parse("2026-03-08T06:00:00Z").toEpochMilli();

  @TempDir Path folder;

  /** A watch's way from the source to the log. */
  private final class Intaking implements AutoCloseable {
    private final SpooledIntake intake;
    private final SourcesSide sources;

    Intaking(Plan plan, Bus bus) throws Exception {
      Metrics metrics = new Metrics();
      Path spool = folder.resolve("spool");
      Disk disk = new Disk(folder, () -> System.nanoTime() / 1_000_000);
      intake =
          new SpooledIntake(spool, disk, bus, List.of(PlanOption.intake(plan)), () -> {}, metrics);
      sources = new SourcesSide(plan, intake, Trust.usual(), metrics.registry());
      sources.start(
          new Stage.Listener() {
            @Override
            public void stopped(String stage, String why) {
              throw new AssertionError(stage + " stopped: " + why);
            }

            @Override
            public void running(String stage) {
              // never stopped
            }
          });
    }

    SourceHealth.State state() {
      return sources.states().get(0);
    }

    @Override
    public void close() {
      sources.close();
      intake.close();
    }
  }

  static int freePort() throws Exception {
    try (ServerSocket s = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      return s.getLocalPort();
    }
  }

  private static Server gateway(int port) throws Exception {
    Properties settings = new Properties();
    settings.put("host", "127.0.0.1");
    settings.put("port", Integer.toString(port));
    settings.put("persistence_enabled", "false");
    settings.put("telemetry_enabled", "false");
    settings.put("allow_anonymous", "true");
    Server server = new Server();
    server.startServer(new MemoryConfig(settings));
    return server;
  }

  private Plan plan(int port) throws Exception {
    Path demo = Path.of("../demo-data/larkspur/plan.yaml");
    Path file = folder.resolve("plan.yaml");
    Files.writeString(
        file,
        Files.readString(demo)
            + """

            sources:
              mqtt:
                - name: gateway
                  server: "tcp://127.0.0.1:%d"
                  topics:
                    - {topic: larkspur/cap/+/state, form: json, gauges: {port: PT-1, starboard: PT-2}, value: /pressure/value, time: /at, unit: MPa}
                    - {topic: larkspur/rams/temperature, gauge: TT-1}
                    - {topic: larkspur/lines, form: lines}
            """
                .formatted(port));
    return PlanOption.load(file).plan();
  }

  static void until(String what, BooleanSupplier holds) {
    long endNs = System.nanoTime() + 120_000_000_000L;
    while (!holds.getAsBoolean()) {
      assertThat(System.nanoTime()).as("still waiting until " + what).isLessThan(endNs);
      LockSupport.parkNanos(20_000_000);
    }
  }

  private static Mqtt3BlockingClient peer(int port) {
    Mqtt3BlockingClient peer =
        MqttClient.builder()
            .useMqttVersion3()
            .identifier("logger")
            .serverHost("127.0.0.1")
            .serverPort(port)
            .buildBlocking();
    peer.connect();
    return peer;
  }

  private static void send(Mqtt3BlockingClient peer, String topic, byte[] payload) {
    peer.publishWith().topic(topic).qos(MqttQos.AT_LEAST_ONCE).payload(payload).send();
  }

  private static void send(Mqtt3BlockingClient peer, int i) {
    String json =
        "{\"at\":\"%s\",\"pressure\":{\"value\":%s}}"
            .formatted(Instant.ofEpochMilli(FIRST_MS + i * 1000L), 46 + i / 1e6);
    send(peer, "larkspur/cap/port/state", json.getBytes(StandardCharsets.UTF_8));
  }

  private static List<Frame> frames(Bus bus, String gauge) {
    List<Frame> all = new ArrayList<>();
    for (var entry : IntakeTest.log(bus)) {
      if (entry instanceof Frame f && f.gauges().ids().equals(List.of(gauge))) {
        all.add(f);
      }
    }
    return all;
  }

  @Test
  void eachReadingIsInTheLogOnceAndInOrderWhateverIsCutOrStopped() throws Exception {
    int port = freePort();
    Server gateway = gateway(port);
    try (EmbeddedBroker broker = EmbeddedBroker.start(folder.resolve("broker")).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()));
        Cable cable = new Cable(port)) {
      bus.createTopics(1, 1);
      Plan plan = plan(cable.port());
      Mqtt3BlockingClient peer = peer(port);
      Intaking intaking = new Intaking(plan, bus);
      try {
        connected(intaking);
        for (int block = 0; block < BLOCKS; block++) {
          long cuts = intaking.state().reconnects();
          send(peer, block, 0);
          inTheLog(bus, block * BLOCK + BLOCK / 2);
          cable.cut();
          Intaking cut = intaking;
          until("it is connected again", () -> cut.state().reconnects() > cuts);
          intaking.close();
          send(peer, block, BLOCK / 2); // nobody is there: the broker keeps them
          intaking = new Intaking(plan, bus);
          inTheLog(bus, (block + 1) * BLOCK);
        }
      } finally {
        intaking.close();
      }
      List<Frame> log = frames(bus, "PT-1");
      assertThat(log).hasSize(BLOCKS * BLOCK);
      for (int i = 0; i < BLOCKS * BLOCK; i++) {
        assertThat(log.get(i).atMs()).as("reading " + i).isEqualTo(FIRST_MS + i * 1000L);
        assertThat(log.get(i).values()[0]).isCloseTo(46_000 + i / 1e3, within(1e-6));
      }
      peer.disconnect();
    } finally {
      gateway.stopServer();
    }
  }

  /** Half a block, from this place in it. */
  private static void send(Mqtt3BlockingClient peer, int block, int from) {
    for (int i = 0; i < BLOCK / 2; i++) {
      send(peer, block * BLOCK + from + i);
    }
  }

  private static void inTheLog(Bus bus, int count) {
    until("the log has " + count, () -> frames(bus, "PT-1").size() >= count);
  }

  private static void connected(Intaking intaking) {
    until("it is connected", () -> intaking.state().connected());
  }

  @Test
  void spoiltMessagesAreRefusedWithAReasonAndNoneEndsTheSource() throws Exception {
    int port = freePort();
    Server gateway = gateway(port);
    try (EmbeddedBroker broker = EmbeddedBroker.start(folder.resolve("broker")).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()));
        Intaking intaking = new Intaking(plan(port), bus)) {
      bus.createTopics(1, 1);
      connected(intaking);
      Mqtt3BlockingClient peer = peer(port);
      Random random = new Random(18);
      String[] topics = {
        "larkspur/cap/port/state",
        "larkspur/cap/keel/state",
        "larkspur/rams/temperature",
        "larkspur/lines"
      };
      byte[] good =
          "{\"at\":\"2026-03-08T06:00:00Z\",\"pressure\":{\"value\":46.9}}"
              .getBytes(StandardCharsets.UTF_8);
      for (int i = 0; i < SPOILT; i++) {
        send(peer, topics[random.nextInt(topics.length)], spoilt(good, random));
      }
      send(peer, 1);
      send(peer, "larkspur/rams/temperature", "4.5".getBytes(StandardCharsets.UTF_8));
      until("the good ones are in the log", () -> frames(bus, "TT-1").size() == 1);
      SourceHealth.State state = intaking.state();
      assertThat(frames(bus, "PT-1")).extracting(Frame::atMs).contains(FIRST_MS + 1000);
      assertThat(state.connected()).isTrue();
      assertThat(state.reconnects()).isZero();
      assertThat(state.refused().keySet())
          .contains("unknown-gauge", "bad-value", "not-json", "bad-time");
      assertThat(state.refused().values().stream().mapToLong(Long::longValue).sum())
          .isGreaterThan(SPOILT / 2);
      peer.disconnect();
    } finally {
      gateway.stopServer();
    }
  }

  /** A payload with bytes changed, cut out or doubled; never a plain number. */
  static byte[] spoilt(byte[] good, Random random) {
    boolean slightly = random.nextBoolean();
    byte[] bytes =
        Arrays.copyOf(good, slightly ? good.length : 1 + random.nextInt(2 * good.length));
    for (int k = 0; k < (slightly ? 1 : 1 + random.nextInt(6)); k++) {
      bytes[random.nextInt(bytes.length)] =
          (byte) (slightly ? ' ' + random.nextInt(95) : random.nextInt(256));
    }
    bytes[0] = (byte) (bytes[0] >= '0' && bytes[0] <= '9' ? '{' : bytes[0]);
    return bytes;
  }
}

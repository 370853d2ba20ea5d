package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.hivemq.client.mqtt.MqttClient;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.mqtt3.Mqtt3BlockingClient;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Arrays;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.door.SourceHealth;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.rules.plan.Plan;
import stillwatch.station.broker.EmbeddedBroker;

/** What an MQTT broker hands on that is no reading, or may not be had. */
@Timeout(300)
class MqttSourceTest {
  private static final int SPOILT = Integer.getInteger("stillwatch.spoilt", 3000);
  private static final long FIRST_MS = Instant.parse("2026-03-08T06:00:00Z").toEpochMilli();

  @TempDir Path folder;

  static int freePort() throws Exception {
    try (ServerSocket s = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      return s.getLocalPort();
    }
  }

  private Plan plan(int port) throws Exception {
    return Intaking.plan(
        folder,
        """
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

  @Test
  void spoiltMessagesAreRefusedWithAReasonAndNoneEndsTheSource() throws Exception {
    int port = freePort();
    try (MqttPeer broker5 = MqttPeer.listening(folder.resolve("peer"), MqttPeer.plain(port));
        EmbeddedBroker broker = EmbeddedBroker.start(folder.resolve("broker")).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()));
        Intaking intaking = Intaking.open(folder, plan(port), bus, Trust.usual())) {
      bus.createTopics(1, 1);
      Intaking.until("it is connected", () -> intaking.state().connected());
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
      send(
          peer,
          "larkspur/cap/port/state",
          "{\"at\":\"2026-03-08T06:00:01Z\",\"pressure\":{\"value\":46}}"
              .getBytes(StandardCharsets.UTF_8));
      send(peer, "larkspur/rams/temperature", "4.5".getBytes(StandardCharsets.UTF_8));
      Intaking.until(
          "the good ones are in the log", () -> Intaking.frames(bus, "TT-1").size() == 1);
      SourceHealth.State state = intaking.state();
      assertThat(Intaking.frames(bus, "PT-1")).extracting(Frame::atMs).contains(FIRST_MS + 1000);
      assertThat(state.connected()).isTrue();
      assertThat(state.reconnects()).isZero();
      assertThat(state.refused().keySet())
          .contains("unknown-gauge", "bad-value", "not-json", "bad-time");
      assertThat(state.refused().values().stream().mapToLong(Long::longValue).sum())
          .isGreaterThan(SPOILT / 2);
      peer.disconnect();
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

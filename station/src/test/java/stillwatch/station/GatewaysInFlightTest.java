package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import org.eclipse.milo.opcua.stack.core.util.SelfSignedCertificateGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.fieldbus.Cable;
import stillwatch.fieldbus.modbus.ModbusPeer;
import stillwatch.fieldbus.opcua.OpcuaPeer;
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
 * Readings by OPC UA of a server that keeps a history, and by Modbus TCP of a register that counts
 * how often it was read, while the lines are cut and the watch is killed.
 */
class GatewaysInFlightTest {
  private static final int READINGS = Integer.getInteger("stillwatch.readings", 3000);
  private static final int ROUNDS = Integer.getInteger("stillwatch.rounds", 1);
  private static final int EVENTS = 3 * ROUNDS; // a round is a cut, a kill, a cut
  private static final int POLLS = 10; // so many come after each event, at least
  private static final int ANSWER_BYTES = 11; // MBAP header 7, function, length, one register
  private static final long FIRST_MS = Instant.parse("2026-03-08T06:00:00Z").toEpochMilli();
  private static final int KPA = 4935745; // UNECE_to_OPCUA.csv of the OPC Foundation
  private static final CompletableFuture<Void> NO_FAULT = CompletableFuture.completedFuture(null);

  @TempDir Path folder;

  private final long seed = System.nanoTime();
  private final Random random = new Random(seed);
  private int said;

  private Path plan(Cable opcua, Cable modbus) throws Exception {
    return Files.writeString(
        folder.resolve("plan.yaml"),
        Files.readString(WatchProcess.LARKSPUR.resolve("plan.yaml"))
            + """

            sources:
              opcua:
                - name: control
                  server: "opc.tcp://127.0.0.1:%d"
                  every: 50 ms
                  gauges: [{gauge: PT-1, node: "nsu=%s;s=port", unit: kPa}]
              modbus:
                - name: cap-logger
                  server: "tcp://127.0.0.1:%d"
                  every: 100 ms
                  timeout: 4 s # a busy machine answers late; that is no cut
                  gauges: [{gauge: PT-2, register: 0, type: uint16, unit: kPa}]
            """
                .formatted(opcua.port(), OpcuaPeer.NAMESPACE, modbus.port()));
  }

  private static double value(int i) {
    return 46_000 + i % 1000 + i % 10 / 10.0;
  }

  private static Quality quality(int i) {
    return i % 11 == 5 ? Quality.BAD : i % 7 == 3 ? Quality.UNCERTAIN : Quality.GOOD;
  }

  private static StatusCode status(int i) {
    return switch (quality(i)) {
      case GOOD -> StatusCode.GOOD;
      case UNCERTAIN -> StatusCode.UNCERTAIN;
      case BAD -> StatusCode.BAD;
    };
  }

  private void say(OpcuaPeer peer, int count) {
    for (int i = 0; i < count; i++, said++) {
      peer.says(
          "port",
          new Variant(value(said)),
          status(said),
          Instant.ofEpochMilli(FIRST_MS + said * 10L));
    }
  }

  /** Waits until the log has everything that was said, and more that was polled. */
  private void has(FollowedLog log) {
    log.has(log.frames("PT-2").size() + POLLS, Set.of("PT-2"), NO_FAULT);
    log.has(said + 1, Set.of("PT-1"), NO_FAULT); // the first is from before anything was said
  }

  private WatchProcess watch(Path plan, EmbeddedBroker broker) throws Exception {
    return WatchProcess.at(broker.bootstrap(), plan, folder.resolve("data"));
  }

  @Test
  @Timeout(value = 1800, unit = TimeUnit.SECONDS)
  void theOutageIsFilledFromTheHistoryAndWhatIsPolledGoesOnEachReadingOnce() throws Exception {
    int opcuaPort = Cable.freePort();
    int modbusPort = Cable.freePort();
    try (OpcuaPeer server =
            OpcuaPeer.listening(opcuaPort, SelfSignedCertificateGenerator.generateRsaKeyPair(2048))
                .variable("port", KPA, true);
        ModbusPeer device = ModbusPeer.listening(modbusPort).counting();
        EmbeddedBroker broker = EmbeddedBroker.start(folder.resolve("broker")).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()));
        Cable opcua = new Cable(opcuaPort);
        Cable modbus = new Cable(modbusPort);
        FollowedLog log = FollowedLog.of(bus)) {
      server.page(500);
      Path plan = plan(opcua, modbus);
      WatchProcess watch = watch(plan, broker);
      try {
        has(log);
        for (int event = 0; event < EVENTS; event++) {
          int part = (event + 1) * READINGS / EVENTS - said;
          if (event % 3 == 1) {
            say(server, part / 3);
            watch.kill();
            say(server, part / 3); // nobody listens
            watch = watch(plan, broker);
            say(server, part - 2 * (part / 3));
          } else {
            opcua.cutAfter(1 + random.nextInt(10 * part)); // somewhere in what comes now
            modbus.cutAfter(1 + random.nextInt(POLLS * ANSWER_BYTES));
            say(server, part);
          }
          has(log);
        }
      } finally {
        watch.stop();
      }
      log.read();
      assertThat(opcua.cuts()).as("seed %d", seed).isEqualTo(2 * ROUNDS);
      assertThat(modbus.cuts()).as("seed %d", seed).isEqualTo(2 * ROUNDS);
      assertThat(log.others()).isEmpty();
      eachOnce(log.frames("PT-1"));
      goesOn(log.frames("PT-2"));
      try (TopicReader rejects = bus.readerOfAll(Topics.REJECTS, Assignment.FROM_THE_START)) {
        assertThat(rejects.poll(Duration.ofSeconds(1))).isEmpty();
      }
    }
  }

  private void eachOnce(List<Frame> log) {
    for (int i = 0; i < said; i++) {
      Frame f = log.get(i + 1);
      assertThat(f.atMs()).as("%d, seed %d", i, seed).isEqualTo(FIRST_MS + i * 10L);
      assertThat(f.qualities()).as("%d, seed %d", i, seed).containsExactly(quality(i).code());
      assertThat(f.values()).containsExactly(quality(i) == Quality.BAD ? Double.NaN : value(i));
    }
    assertThat(log).as("seed %d", seed).hasSize(said + 1);
  }

  /** What an answer had said that was cut, or not kept when the watch was killed, is lacking. */
  private void goesOn(List<Frame> log) {
    List<Double> counts = log.stream().map(f -> f.values()[0]).toList();
    assertThat(counts).as("seed %d", seed).isSorted().doesNotHaveDuplicates();
    double lacking = counts.get(counts.size() - 1) - counts.size();
    assertThat(lacking).as("seed %d", seed).isBetween(0.0, 3.0 * ROUNDS);
    assertThat(log).extracting(Frame::atMs).isSorted();
    assertThat(log).allMatch(f -> f.qualities()[0] == Quality.GOOD.code());
  }
}

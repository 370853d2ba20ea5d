package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.spool.Spool;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.station.broker.EmbeddedBroker;

/** An intake whose broker answers nothing for a while, and which is killed meanwhile. */
@Timeout(240)
class SpoolTest {
  private static final String PLAN = WatchProcess.LARKSPUR.resolve("plan.yaml").toString();
  private static final Instant START = Instant.parse("2026-03-08T06:00:00Z");

  @TempDir Path folder;

  /** A broker in a process of its own. */
  private record Broker(Process process, String address) implements AutoCloseable {
    static Broker start(Path folder) throws IOException {
      Process process =
          ChildJava.running("stillwatch.station.run.BrokerMain", List.of(folder.toString()))
              .redirectError(ProcessBuilder.Redirect.DISCARD)
              .start();
      BufferedReader out = process.inputReader();
      return new Broker(process, String.valueOf(out.readLine()));
    }

    void signal(String which) throws IOException, InterruptedException {
      new ProcessBuilder("kill", which, Long.toString(process.pid())).start().waitFor();
    }

    @Override
    public void close() {
      process.destroyForcibly();
    }
  }

  private WatchProcess intake(Broker broker) throws IOException, InterruptedException {
    return WatchProcess.start(
            "intake",
            "--open",
            "--plan",
            PLAN,
            "--broker",
            broker.address(),
            "--spool",
            folder.resolve("spool").toString(),
            "--http",
            "0")
        .listening();
  }

  /** Posts a reading a second, these numbers of them, ten in a body. */
  private static void post(WatchProcess intake, int from, int to) throws Exception {
    for (int ten = from; ten < to; ten += 10) {
      StringBuilder body = new StringBuilder();
      for (int i = ten; i < ten + 10; i++) {
        body.append(
            "{\"well\":\"larkspur-2\",\"at\":\"%s\",\"gauge\":\"PT-1\",\"value\":%d}%n"
                .formatted(START.plusSeconds(i), 46_000 + i));
      }
      assertThat(intake.post("/telemetry", "application/x-ndjson", body.toString()).body())
          .contains("\"taken\":10");
    }
  }

  private static List<Long> readings(List<Telemetry> log) {
    return log.stream().filter(Frame.class::isInstance).map(Telemetry::atMs).toList();
  }

  private static Message message(int i) {
    return new TelemetryCodec()
        .encode(new Pulse("larkspur-2", START.toEpochMilli() + i, START.toEpochMilli() + i));
  }

  /** Appends these, and waits until the broker has them. */
  private static void spool(Path folder, Bus bus, int from, int to) throws Exception {
    try (Spool spool = Spool.open(folder, bus, Topics.TELEMETRY, 400)) {
      for (int i = from; i < to; i++) {
        spool.append(message(i)).get();
      }
      while (spool.waiting() > 0) {
        Thread.sleep(10);
      }
    }
  }

  /** What somebody entered in the room stands at the topic's end, and is none of the spool's. */
  @Test
  void filesAreRenewedAndAnotherFolderBeginsAnew() throws Exception {
    Path spool = folder.resolve("one");
    try (EmbeddedBroker broker = EmbeddedBroker.start(folder.resolve("broker")).join();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()));
        TopicWriter room = bus.writer(Topics.TELEMETRY)) {
      bus.createTopics(1, 1);
      spool(spool, bus, 0, 100);
      assertThat(spool.resolve("id")).exists();
      assertThat(spool.toFile().list()).as("the id, one file, the one before").hasSize(3);
      room.append(message(100)).get();
      spool(spool, bus, 101, 150);
      spool(folder.resolve("two"), bus, 150, 160);
      assertThat(IntakeTest.log(bus))
          .extracting(t -> t.receivedMs() - START.toEpochMilli())
          .containsExactlyElementsOf(LongStream.range(0, 160).boxed().toList());
    }
  }

  @Test
  void nothingIsLostDoubledOrOutOfOrder() throws Exception {
    try (Broker broker = Broker.start(folder.resolve("broker"));
        Bus bus = KafkaBus.open(new BusSettings(broker.address(), Map.of()))) {
      try (WatchProcess first = intake(broker)) {
        post(first, 0, 50);
        broker.signal("-STOP");
        post(first, 50, 150);
        assertThat(first.text("/metrics")).containsPattern("stillwatch_spool_waiting 1[0-9][0-9]");
        first.kill();
      }
      try (WatchProcess second = intake(broker)) {
        post(second, 150, 200);
        assertThat(second.endsWithin(3000)).isFalse();
        broker.signal("-CONT");
        post(second, 200, 210);
        while (readings(IntakeTest.log(bus)).size() < 210) {
          assertThat(second.endsWithin(200)).isFalse();
        }
        while (!second.text("/metrics").contains("stillwatch_spool_waiting 0")) {
          assertThat(second.endsWithin(100)).isFalse();
        }
      }
      List<Telemetry> log = IntakeTest.log(bus);
      assertThat(readings(log))
          .containsExactlyElementsOf(
              LongStream.range(0, 210)
                  .map(i -> START.plusSeconds(i).toEpochMilli())
                  .boxed()
                  .toList());
      assertThat(log).extracting(Telemetry::receivedMs).isSorted();
    }
  }

  @Test
  void theRulesAndTheIntakeSayThatTheyAreBlindWhileTheBrokerIsAway() throws Exception {
    try (Broker broker = Broker.start(folder.resolve("broker"));
        WatchProcess intake = intake(broker);
        WatchProcess rules =
            WatchProcess.start("rules", "--plan", PLAN, "--broker", broker.address(), "--http", "0")
                .listening()) {
      for (WatchProcess each : List.of(intake, rules)) {
        each.healthSays("works");
      }
      broker.signal("-STOP");
      for (WatchProcess each : List.of(intake, rules)) {
        each.healthSays("blind: the broker does not answer");
      }
      broker.signal("-CONT");
      for (WatchProcess each : List.of(intake, rules)) {
        each.healthSays("works");
      }
    }
  }
}

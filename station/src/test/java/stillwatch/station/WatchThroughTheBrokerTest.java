package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.replay.Replay;
import stillwatch.rules.service.RulesService;
import stillwatch.station.broker.EmbeddedBroker;

/**
 * A recording through the broker's log and the rules service against the same recording replayed.
 */
class WatchThroughTheBrokerTest {
  private static final Path FOLDER = Path.of("../demo-data/larkspur");

  @TempDir Path data;

  private final RuleBook book = RuleBook.forPlan(FOLDER.resolve("plan.yaml"));
  private final Plan plan = PlanLoader.load(FOLDER.resolve("plan.yaml"), book.catalogue());

  private RecordingFeed leak() throws IOException {
    return RecordingFeed.open(FOLDER.resolve("leak.csv.gz"), plan.recordings(), new Problems());
  }

  private List<String> replayed() throws IOException {
    List<String> found = new ArrayList<>();
    try (RecordingFeed feed = leak()) {
      Replay.run(
          plan,
          book,
          feed,
          f -> found.add(new String(FindingCodec.encode(f), StandardCharsets.UTF_8)));
    }
    return found;
  }

  private void feed(Bus bus) throws IOException {
    TelemetryCodec codec = new TelemetryCodec();
    try (TopicWriter writer = bus.writer(Topics.TELEMETRY);
        RecordingFeed feed = leak()) {
      for (Telemetry entry = feed.next(); entry != null; entry = feed.next()) {
        var unused = writer.append(codec.encode(entry));
      }
      writer.flush();
    }
  }

  /**
   * Runs a rules service until it says that it has read the log to its end, and gives all that is
   * on the alerts topic.
   */
  private List<String> watched(Bus bus) throws Exception {
    long endMs =
        bus.last(Topics.TELEMETRY, m -> m.key().equals(plan.well()))
            .map(m -> new TelemetryCodec().decode(m).receivedMs())
            .orElseThrow();
    RulesService rules =
        new RulesService(
            bus,
            List.of(new RulesService.WatchedWell(plan, book)),
            Clock.systemUTC(),
            new SimpleMeterRegistry());
    Thread thread = new Thread(rules, "rules");
    try (TopicReader progress = bus.readerOfAll(Topics.PROGRESS, Assignment.FROM_THE_START)) {
      Map<Integer, Long> before = progress.endOffsets();
      thread.start();
      boolean read = false;
      while (!read) {
        read =
            progress.poll(Duration.ofMillis(200)).stream()
                .anyMatch(
                    m ->
                        m.offset() >= before.getOrDefault(0, 0L)
                            && FindingCodec.decodeProgress(m.value()).logMs() >= endMs);
      }
    } finally {
      rules.close();
      thread.join();
    }
    List<String> said = new ArrayList<>();
    try (TopicReader alerts = bus.readerOfAll(Topics.ALERTS, Assignment.FROM_THE_START)) {
      Map<Integer, Long> ends = alerts.endOffsets();
      while (!alerts.passed(ends)) {
        alerts
            .poll(Duration.ofMillis(200))
            .forEach(m -> said.add(new String(m.value(), StandardCharsets.UTF_8)));
      }
    }
    return said;
  }

  @Test
  @Timeout(value = 180, unit = TimeUnit.SECONDS)
  void theLogGivesWhatTheReplayGivesAndASecondOwnerSaysNothingTwice() throws Exception {
    try (EmbeddedBroker broker = EmbeddedBroker.start(data).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
      bus.createTopics(1, 1);
      feed(bus);

      assertThat(replayed()).isNotEmpty();
      assertThat(watched(bus)).isEqualTo(replayed());
      assertThat(watched(bus)).isEqualTo(replayed());
    }
  }
}

package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
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
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.finding.Progress;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.replay.Replay;
import stillwatch.rules.service.RulesService;
import stillwatch.rules.service.RulesService.WatchedWell;
import stillwatch.station.broker.EmbeddedBroker;

/** Rule processes that come and go while the log of several wells grows. */
class TakeOverTest {
  private static final int REBALANCES = Integer.getInteger("stillwatch.rebalances", 4);
  private static final int WELLS = 2;
  private static final int PARTITIONS = 12;

  @TempDir Path folder;

  /** A rules service on a connection of its own. */
  private static final class Member implements AutoCloseable {
    private final Bus bus;
    private final RulesService rules;
    private final Thread thread;

    Member(String broker, List<WatchedWell> wells) {
      bus = KafkaBus.open(new BusSettings(broker, Map.of()));
      rules = new RulesService(bus, wells, Clock.systemUTC(), new SimpleMeterRegistry());
      thread = new Thread(rules, "rules");
      thread.start();
    }

    @Override
    public void close() throws InterruptedException {
      rules.close();
      thread.join();
      bus.close();
    }
  }

  private List<WatchedWell> wells() throws IOException {
    Path demo = WatchProcess.LARKSPUR.resolve("plan.yaml");
    List<WatchedWell> wells = new ArrayList<>();
    for (int i = 0; i < WELLS; i++) {
      Path plan = folder.resolve("plan-" + i + ".yaml");
      Files.writeString(
          plan, Files.readString(demo).replace("well: larkspur-2", "well: larkspur-" + (10 + i)));
      RuleBook book = RuleBook.forPlan(plan);
      wells.add(new WatchedWell(PlanLoader.load(plan, book.catalogue()), book));
    }
    return wells;
  }

  private static RecordingFeed recording(WatchedWell well) throws IOException {
    return RecordingFeed.open(
        WatchProcess.LARKSPUR.resolve("leak.csv.gz"), well.plan().recordings(), new Problems());
  }

  private static String name(Finding f) {
    return f.well() + " " + f.id() + (f.returned() ? " returned" : " raised");
  }

  private static List<String> replayed(List<WatchedWell> wells) throws IOException {
    List<String> said = new ArrayList<>();
    for (WatchedWell w : wells) {
      try (RecordingFeed feed = recording(w)) {
        Replay.run(w.plan(), w.book(), feed, f -> said.add(name(f)));
      }
    }
    return said;
  }

  /** What is appended between one rebalance and the next: a share of every well's recording. */
  private static List<List<Telemetry>> shares(List<WatchedWell> wells) throws IOException {
    List<List<Telemetry>> shares = new ArrayList<>();
    for (int i = 0; i <= REBALANCES; i++) {
      shares.add(new ArrayList<>());
    }
    for (WatchedWell w : wells) {
      List<Telemetry> all = new ArrayList<>();
      try (RecordingFeed feed = recording(w)) {
        for (Telemetry t = feed.next(); t != null; t = feed.next()) {
          all.add(t);
        }
      }
      for (int i = 0; i < all.size(); i++) {
        shares.get((int) ((long) i * shares.size() / all.size())).add(all.get(i));
      }
    }
    return shares;
  }

  private static List<String> said(Bus bus) {
    List<String> said = new ArrayList<>();
    try (TopicReader alerts = bus.readerOfAll(Topics.ALERTS, Assignment.FROM_THE_START)) {
      Map<Integer, Long> ends = alerts.endOffsets();
      while (!alerts.passed(ends)) {
        alerts
            .poll(Duration.ofMillis(200))
            .forEach(m -> said.add(name(FindingCodec.decode(m.value()))));
      }
    }
    return said;
  }

  /** Waits until every well's owner says that it has judged the log up to its moment. */
  private static void judged(TopicReader progress, long sinceMs, Map<String, Long> upToMs) {
    Set<String> missing = new HashSet<>(upToMs.keySet());
    while (!missing.isEmpty()) {
      for (var m : progress.poll(Duration.ofMillis(200))) {
        Progress p = FindingCodec.decodeProgress(m.value());
        if (p.sentMs() >= sinceMs && p.logMs() >= upToMs.getOrDefault(m.key(), 0L)) {
          missing.remove(m.key());
        }
      }
    }
  }

  @Test
  @Timeout(value = 900, unit = TimeUnit.SECONDS)
  void noFindingIsMissingAndNoneIsWrittenTwice() throws Exception {
    List<WatchedWell> wells = wells();
    TelemetryCodec codec = new TelemetryCodec();
    try (EmbeddedBroker broker = EmbeddedBroker.start(folder.resolve("broker")).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
      bus.createTopics(PARTITIONS, 1);
      Deque<Member> members = new ArrayDeque<>();
      try (TopicWriter log = bus.writer(Topics.TELEMETRY);
          TopicReader progress = bus.readerOfAll(Topics.PROGRESS, Assignment.FROM_THE_START)) {
        members.add(new Member(broker.bootstrap(), wells));
        members.add(new Member(broker.bootstrap(), wells));
        Map<String, Long> upToMs = new HashMap<>();
        for (List<Telemetry> share : shares(wells)) {
          for (Telemetry t : share) {
            var unused = log.append(codec.encode(t));
            upToMs.put(t.well(), t.receivedMs());
          }
          log.flush();
          judged(progress, System.currentTimeMillis(), members.size() == 2 ? upToMs : Map.of());
          if (members.size() == 2) {
            members.add(new Member(broker.bootstrap(), wells));
          } else {
            members.remove().close();
          }
        }
        judged(progress, System.currentTimeMillis(), upToMs);
      } finally {
        for (Member m : members) {
          m.close();
        }
      }
      assertThat(said(bus))
          .doesNotHaveDuplicates()
          .containsExactlyInAnyOrderElementsOf(replayed(wells))
          .hasSizeGreaterThan(4 * WELLS);
    }
  }
}

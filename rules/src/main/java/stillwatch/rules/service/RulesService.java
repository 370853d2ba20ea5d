package stillwatch.rules.service;

import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.SoleWriter;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.ingest.wire.TelemetryFormatException;
import stillwatch.rules.engine.Engines;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.finding.Progress;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.review.Reviewer;
import stillwatch.rules.watch.WellWatch;

/**
 * The watch as a member of the group of rule processes. Whatever partitions it is given it reads
 * from their beginning: the findings are a pure function of the log, so a new owner comes to the
 * same findings with the same ids. No finding is written twice: a new owner first shuts out the one
 * before it, then reads what was said, and writes only what was not. One thread runs it; {@link
 * #close()} may come from another.
 */
public final class RulesService implements Runnable, AutoCloseable {
  /** The consumer group of all rule processes. */
  public static final String GROUP = "stillwatch-rules";

  private static final Logger LOG = LoggerFactory.getLogger(RulesService.class);
  private static final Duration WAIT = Duration.ofMillis(100);
  private static final long PROGRESS_EVERY_MS = 2000;

  private final Bus bus;
  private final Map<String, Plan> plans = new HashMap<>();
  private final Map<String, RuleBook> books = new HashMap<>();
  private final Clock clock;
  private final Counter unreadable;
  private final Counter unplanned;
  private final Engines engines = new Engines();
  private final Map<String, WellWatch> watches = new HashMap<>();
  private final Map<String, Reviewer> reviewers = new HashMap<>();
  private final Map<String, Integer> partitionOf = new HashMap<>();
  private final Map<Integer, SoleWriter> writers = new HashMap<>();
  private final Map<Integer, List<Message>> unsaid = new TreeMap<>();
  private volatile boolean closing;

  /** A well's plan and the book to watch it with. */
  public record WatchedWell(Plan plan, RuleBook book) {}

  /** A service for these wells; entries of other wells are counted and left to others. */
  public RulesService(Bus bus, List<WatchedWell> wells, Clock clock, MeterRegistry meters) {
    this.bus = bus;
    this.clock = clock;
    for (WatchedWell w : wells) {
      plans.put(w.plan().well(), w.plan());
      books.put(w.plan().well(), w.book());
    }
    unreadable = meters.counter("stillwatch.rules.unreadable");
    unplanned = meters.counter("stillwatch.rules.unplanned");
  }

  @Override
  public void run() {
    TelemetryCodec codec = new TelemetryCodec();
    try (FindingsOnTopic said = new FindingsOnTopic(bus);
        TopicWriter progress = bus.writer(Topics.PROGRESS);
        TopicWriter reviews = bus.writer(Topics.REVIEWS);
        TopicReader reader = bus.reader(Topics.TELEMETRY, GROUP, new FromTheStart(said))) {
      long nextProgressMs = 0;
      while (!closing) {
        for (Message message : reader.poll(WAIT)) {
          take(message, codec, said, reviews);
        }
        say();
        if (clock.millis() >= nextProgressMs) {
          nextProgressMs = clock.millis() + PROGRESS_EVERY_MS;
          sayProgress(progress);
        }
      }
    } finally {
      letGo(Set.copyOf(writers.keySet()));
    }
  }

  private void take(
      Message message, TelemetryCodec codec, FindingsOnTopic said, TopicWriter reviews) {
    Plan plan = plans.get(message.key());
    RuleBook book = books.get(message.key());
    if (plan == null || book == null) {
      unplanned.increment();
      return;
    }
    Telemetry entry = entry(message, codec);
    if (entry == null) {
      return;
    }
    WellWatch watch = watches.get(message.key());
    if (watch == null) {
      watch = begin(plan, book, message.partition(), said, reviews);
    }
    watch.accept(entry);
  }

  private WellWatch begin(
      Plan plan, RuleBook book, int partition, FindingsOnTopic said, TopicWriter reviews) {
    String well = plan.well();
    Reviewer reviewer = new Reviewer(plan, words -> review(well, words, reviews));
    reviewers.put(well, reviewer);
    WellWatch watch =
        new WellWatch(plan, book, finding -> find(finding, partition, said), reviewer, engines);
    watches.put(well, watch);
    partitionOf.put(well, partition);
    return watch;
  }

  private @Nullable Telemetry entry(Message message, TelemetryCodec codec) {
    try {
      return codec.decode(message);
    } catch (TelemetryFormatException e) {
      unreadable.increment();
      LOG.warn(
          "offset {} of partition {} left out: {}",
          message.offset(),
          message.partition(),
          e.getMessage());
      return null;
    }
  }

  private static void review(String well, byte[] said, TopicWriter reviews) {
    var unused = reviews.append(Message.of(well, said, Map.of())); // the next says it again
  }

  private void find(Finding finding, int partition, FindingsOnTopic said) {
    if (said.add(finding)) {
      unsaid
          .computeIfAbsent(partition, p -> new ArrayList<>())
          .add(
              Message.of(
                  finding.well(),
                  FindingCodec.encode(finding),
                  Map.of("format", FindingCodec.FORMAT)));
    }
  }

  /** Writes what was found. When that fails, this service ends, and the next owner writes it. */
  private void say() {
    writers.forEach(
        (partition, writer) -> {
          List<Message> found = unsaid.remove(partition);
          if (found != null) {
            writer.write(found);
          }
        });
  }

  private void sayProgress(TopicWriter progress) {
    for (Map.Entry<String, WellWatch> w : watches.entrySet()) {
      Progress p = new Progress(w.getKey(), w.getValue().nowMs(), clock.millis());
      var unused = progress.append(Message.of(w.getKey(), FindingCodec.encode(p), Map.of()));
    }
  }

  private void letGo(Collection<Integer> partitions) {
    for (String well : List.copyOf(partitionOf.keySet())) {
      if (partitions.contains(partitionOf.get(well))) {
        letGo(well);
      }
    }
    for (int partition : partitions) {
      unsaid.remove(partition);
      SoleWriter writer = writers.remove(partition);
      if (writer != null) {
        writer.close();
      }
    }
  }

  private void letGo(String well) {
    partitionOf.remove(well);
    WellWatch watch = watches.remove(well);
    if (watch != null) {
      watch.close();
    }
    Reviewer reviewer = reviewers.remove(well);
    if (reviewer != null) {
      reviewer.close();
    }
  }

  @Override
  public void close() {
    closing = true;
  }

  private final class FromTheStart implements Assignment {
    private final FindingsOnTopic said;

    FromTheStart(FindingsOnTopic said) {
      this.said = said;
    }

    @Override
    public Map<Integer, Long> assigned(Collection<Integer> partitions) {
      letGo(partitions);
      for (int p : partitions) {
        writers.put(p, bus.soleWriter(Topics.ALERTS, GROUP + "-" + p));
      }
      said.readOn(); // not before the last owner is shut out
      return Map.of();
    }

    @Override
    public void revoked(Collection<Integer> partitions) {
      letGo(partitions);
    }
  }
}

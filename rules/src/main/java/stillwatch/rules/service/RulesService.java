package stillwatch.rules.service;

import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.ingest.wire.TelemetryFormatException;
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
 * same findings with the same ids, and those already on the alerts topic are not written again. One
 * thread runs it; {@link #close()} may come from another.
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
  private final Map<String, WellWatch> watches = new HashMap<>();
  private final Map<String, Reviewer> reviewers = new HashMap<>();
  private final Map<String, Integer> partitionOf = new HashMap<>();
  private final Set<String> said = new HashSet<>();
  private volatile boolean closing;

  /** A well's plan and the book to watch it with. */
  public record Watched(Plan plan, RuleBook book) {}

  /** A service for these wells; entries of other wells are counted and left to others. */
  public RulesService(Bus bus, List<Watched> wells, Clock clock, MeterRegistry meters) {
    this.bus = bus;
    this.clock = clock;
    for (Watched w : wells) {
      plans.put(w.plan().well(), w.plan());
      books.put(w.plan().well(), w.book());
    }
    unreadable = meters.counter("stillwatch.rules.unreadable");
    unplanned = meters.counter("stillwatch.rules.unplanned");
  }

  @Override
  public void run() {
    readWhatWasSaid();
    TelemetryCodec codec = new TelemetryCodec();
    try (TopicWriter alerts = bus.writer(Topics.ALERTS);
        TopicWriter progress = bus.writer(Topics.PROGRESS);
        TopicWriter reviews = bus.writer(Topics.REVIEWS);
        TopicReader reader = bus.reader(Topics.TELEMETRY, GROUP, new FromTheStart())) {
      long nextProgressMs = 0;
      while (!closing) {
        for (Message message : reader.poll(WAIT)) {
          take(message, codec, alerts, reviews);
        }
        if (clock.millis() >= nextProgressMs) {
          nextProgressMs = clock.millis() + PROGRESS_EVERY_MS;
          sayProgress(progress);
        }
      }
      alerts.flush();
    } finally {
      letGo(List.copyOf(partitionOf.values()));
    }
  }

  private void take(
      Message message, TelemetryCodec codec, TopicWriter alerts, TopicWriter reviews) {
    Plan plan = plans.get(message.key());
    RuleBook book = books.get(message.key());
    if (plan == null || book == null) {
      unplanned.increment();
      return;
    }
    Telemetry entry;
    try {
      entry = codec.decode(message);
    } catch (TelemetryFormatException e) {
      unreadable.increment();
      LOG.warn(
          "offset {} of partition {} left out: {}",
          message.offset(),
          message.partition(),
          e.getMessage());
      return;
    }
    WellWatch watch = watches.get(message.key());
    if (watch == null) {
      Reviewer reviewer = new Reviewer(plan, said -> review(plan.well(), said, reviews));
      reviewers.put(message.key(), reviewer);
      watch = new WellWatch(plan, book, finding -> say(finding, alerts), reviewer);
      watches.put(message.key(), watch);
      partitionOf.put(message.key(), message.partition());
    }
    watch.accept(entry);
  }

  private static void review(String well, byte[] said, TopicWriter reviews) {
    var unused = reviews.append(Message.of(well, said, Map.of())); // the next says it again
  }

  private void say(Finding finding, TopicWriter alerts) {
    if (!said.add(name(finding))) {
      return;
    }
    Message message =
        Message.of(
            finding.well(), FindingCodec.encode(finding), Map.of("format", FindingCodec.FORMAT));
    var unused =
        alerts
            .append(message)
            .whenComplete(
                (done, fault) -> {
                  if (fault != null) {
                    // the process ends and the next owner says it again: nothing is lost by
                    // stopping
                    LOG.error(
                        "alert {} could not be written: {}", finding.id(), fault.getMessage());
                    closing = true;
                  }
                });
  }

  private void sayProgress(TopicWriter progress) {
    for (Map.Entry<String, WellWatch> w : watches.entrySet()) {
      Progress p = new Progress(w.getKey(), w.getValue().nowMs(), clock.millis());
      var unused = progress.append(Message.of(w.getKey(), FindingCodec.encode(p), Map.of()));
    }
  }

  private void readWhatWasSaid() {
    try (TopicReader reader = bus.readerOfAll(Topics.ALERTS, Assignment.FROM_THE_START)) {
      Map<Integer, Long> ends = reader.endOffsets();
      while (!reader.passed(ends) && !closing) {
        for (Message m : reader.poll(WAIT)) {
          try {
            said.add(name(FindingCodec.decode(m.value())));
          } catch (IllegalArgumentException e) {
            LOG.warn("offset {} of the alerts topic is no finding: {}", m.offset(), e.getMessage());
          }
        }
      }
    }
  }

  private static String name(Finding finding) {
    return finding.id() + (finding.returned() ? " returned" : " raised");
  }

  private void letGo(Collection<Integer> partitions) {
    List<String> wells = new ArrayList<>();
    partitionOf.forEach(
        (well, partition) -> {
          if (partitions.contains(partition)) {
            wells.add(well);
          }
        });
    for (String well : wells) {
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
  }

  @Override
  public void close() {
    closing = true;
  }

  private final class FromTheStart implements Assignment {
    @Override
    public Map<Integer, Long> assigned(Collection<Integer> partitions) {
      letGo(partitions);
      return Map.of();
    }

    @Override
    public void revoked(Collection<Integer> partitions) {
      letGo(partitions);
    }
  }
}

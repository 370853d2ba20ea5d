package stillwatch.ingest.intake;

import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Clock;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.LongFunction;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;

/**
 * Takes live telemetry into the log: stamps the time of reception, which never decreases, not
 * across restarts either; writes a pulse a second for each well; sends what cannot be accepted to
 * the rejects with one sentence why. The only place that reads a wall clock for the log. Safe from
 * any thread.
 */
public final class Intake implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Intake.class);

  /** Of a line that is wrong in more ways so many go with it. */
  private static final int REASONS_KEPT = 20;

  private final Map<String, IntakeWell> wells = new HashMap<>();
  private final LineReader reader;
  private final ReceptionClock clock;
  private final TopicWriter log;
  private final TopicWriter rejects;
  private final MeterRegistry meters;
  private final Counter taken;
  private final Counter notKept;
  private final Quota quota = new Quota(System::nanoTime);
  private final TelemetryCodec codec = new TelemetryCodec();
  private final ScheduledExecutorService pulses =
      Executors.newSingleThreadScheduledExecutor(
          r -> {
            Thread t = new Thread(r, "pulses");
            t.setDaemon(true);
            return t;
          });

  /**
   * A running intake for these wells.
   *
   * @param log where what is taken goes; closed with the intake, as the rejects are
   * @param rejects where what is refused goes
   * @param newestMs the reception time of what the log has already; the time goes on from there
   * @param wall this machine's clock
   */
  public Intake(
      List<IntakeWell> known,
      TopicWriter log,
      TopicWriter rejects,
      long newestMs,
      Clock wall,
      MeterRegistry meters) {
    this.meters = meters;
    known.forEach(w -> wells.put(w.id(), w));
    reader = new LineReader(wells);
    clock = new ReceptionClock(wall, System::nanoTime);
    clock.startAt(newestMs);
    taken = meters.counter("stillwatch.intake.taken");
    notKept =
        Counter.builder("stillwatch.intake.rejects.not.kept")
            .description(
                "refused lines that are not on the topic of rejects: their source, or all together, sent too many within a minute")
            .register(meters);
    this.log = log;
    this.rejects = rejects;
    var unused = pulses.scheduleAtFixedRate(this::pulse, 0, 1, TimeUnit.SECONDS);
  }

  /** The reception time of what a broker's log has of these wells; 0 for nothing. */
  public static long newestMs(Bus bus, List<IntakeWell> wells) {
    TelemetryCodec codec = new TelemetryCodec();
    return wells.stream()
        .map(w -> bus.last(Topics.TELEMETRY, m -> m.key().equals(w.id())))
        .flatMap(Optional::stream)
        .mapToLong(m -> codec.decode(m).receivedMs())
        .max()
        .orElse(0);
  }

  /**
   * What became of a line.
   *
   * @param acknowledged completes when all of it is kept, the refused part among the rejects
   * @param taken whether anything that it says went into the log, now or before
   * @param again whether its sender gave it before
   * @param refused what did not
   */
  public record Outcome(
      CompletableFuture<Void> acknowledged, boolean taken, boolean again, List<Refusal> refused) {}

  /** Takes one line of telemetry. */
  Outcome take(byte[] line, Sender sender) {
    return take(line, sender, null);
  }

  /**
   * Takes one line of telemetry.
   *
   * @param resent what its sender gave lately, which is not taken again; null where everything is
   */
  Outcome take(byte[] line, Sender sender, @Nullable Resent resent) {
    LineReader.Line read = reader.read(line, clock.nowMs(), sender.tells());
    CompletableFuture<Void> acknowledged = CompletableFuture.completedFuture(null);
    boolean again = false;
    var entry = read.entry();
    if (entry != null) {
      Telemetry said = entry.apply(0);
      Optional<CompletableFuture<Void>> before =
          resent == null ? Optional.empty() : resent.of(said);
      again = before.isPresent();
      acknowledged = before.orElseGet(() -> append(entry));
      if (!again && resent != null) {
        resent.remember(said, acknowledged);
      }
      if (!again && read.taken()) {
        acknowledged = acknowledged.thenRun(taken::increment);
      }
    }
    if (!read.refused().isEmpty()) {
      acknowledged =
          CompletableFuture.allOf(
              acknowledged, reject(read.well(), line, sender.name(), read.refused()));
    }
    return new Outcome(acknowledged, read.taken(), again, read.refused());
  }

  /** Now, as it stamps what it takes; ms since 1970 UTC. */
  long nowMs() {
    return clock.nowMs();
  }

  /** Stamps and appends under one lock, so that the log's order is the order of the stamps. */
  private synchronized CompletableFuture<Void> append(LongFunction<Telemetry> entry) {
    return log.append(codec.encode(entry.apply(clock.nowMs())));
  }

  /** Counts what is refused, and sends it to the rejects as long as there are not too many. */
  CompletableFuture<Void> reject(String well, byte[] raw, String source, List<Refusal> refused) {
    for (Refusal r : refused) {
      meters.counter("stillwatch.intake.refused", "reason", r.reason().wire()).increment();
    }
    if (!quota.keeps(source, raw.length)) {
      notKept.increment();
      return CompletableFuture.completedFuture(null);
    }
    String why =
        refused.stream()
            .limit(REASONS_KEPT)
            .map(r -> (r.gauge().isEmpty() ? "" : r.gauge() + ": ") + r.why())
            .collect(Collectors.joining("; "));
    return rejects.append(Message.of(well, raw, Map.of("source", source, "why", why)));
  }

  private void pulse() {
    for (String well : wells.keySet()) {
      append(receivedMs -> new Pulse(well, receivedMs, receivedMs))
          .exceptionally(
              fault -> {
                LOG.warn("a pulse of {} did not reach the broker: {}", well, fault.getMessage());
                return null;
              });
    }
  }

  @Override
  public void close() {
    pulses.shutdownNow();
    log.close();
    rejects.close();
  }
}

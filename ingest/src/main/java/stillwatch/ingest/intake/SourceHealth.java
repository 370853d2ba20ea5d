package stillwatch.ingest.intake;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.atomic.LongAdder;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** How one source is. Safe from any thread. */
public final class SourceHealth {
  private static final Logger LOG = LoggerFactory.getLogger(SourceHealth.class);

  private final String name;
  private final LongSupplier nowMs;
  private final LongAdder taken = new LongAdder();
  private final LongAdder again = new LongAdder();
  private final Map<String, LongAdder> refused = new ConcurrentSkipListMap<>();
  private boolean connected;
  private long sinceMs;
  private long connections;
  private volatile long lastMs;
  private String fault = "it has not been reached yet";

  /**
   * How it is at one moment. Times are ms since 1970 UTC, 0 for never.
   *
   * @param connected whether it is in touch with the other side
   * @param sinceMs since when it is so
   * @param lastMs when something came last
   * @param taken readings and lines that were taken
   * @param again readings that came again and were not taken twice
   * @param refused how many were refused, by reason
   * @param reconnects how often the connection was made again
   * @param fault why it is not connected, or what it lacks though it is; empty when nothing is
   *     wrong
   */
  public record State(
      String name,
      boolean connected,
      long sinceMs,
      long lastMs,
      long taken,
      long again,
      Map<String, Long> refused,
      long reconnects,
      String fault) {}

  /**
   * Of a source that has not been reached yet.
   *
   * @param nowMs this machine's clock, ms since 1970 UTC
   */
  public SourceHealth(String name, LongSupplier nowMs) {
    this.name = name;
    this.nowMs = nowMs;
    sinceMs = nowMs.getAsLong();
  }

  /** It is in touch with the other side. */
  public void connected() {
    connected(List.of());
  }

  /**
   * It is in touch with the other side, but for some gauges.
   *
   * @param lacks why not for those, a sentence each
   */
  public synchronized void connected(List<String> lacks) {
    String wrong = String.join("; ", lacks);
    if (!wrong.isEmpty() && !fault.equals(wrong)) {
      lacks.forEach(why -> LOG.warn("source {}: {}; its other gauges go on", name, why));
    }
    fault = wrong;
    if (!connected) {
      connected = true;
      sinceMs = nowMs.getAsLong();
      connections++;
      LOG.info("source {} is connected", name);
    }
  }

  /** It is not, for this reason. */
  public synchronized void lost(String why) {
    if (connected || !fault.equals(why)) {
      LOG.warn("source {} is not connected: {}; it tries again", name, why);
    }
    over(why);
  }

  /** It is not, for it has been ended. */
  public synchronized void closed() {
    over("it is closed");
  }

  private void over(String why) {
    if (connected) {
      connected = false;
      sinceMs = nowMs.getAsLong();
    }
    fault = why;
  }

  /** Something came, whatever becomes of it. */
  public void came() {
    lastMs = nowMs.getAsLong();
  }

  /** What became of a line that came. */
  public void became(Intake.Outcome outcome) {
    outcome.refused().forEach(this::refused);
    if (outcome.again()) {
      again.increment();
    } else if (outcome.taken()) {
      taken.increment();
    }
  }

  /** Something was refused; the first of each reason is told in the log of this program. */
  public void refused(Refusal refusal) {
    String reason = refusal.reason().wire();
    LongAdder count = refused.get(reason);
    if (count == null) {
      LOG.warn(
          "source {}: {} ({}; from here on they are counted)",
          name,
          (refusal.gauge().isEmpty() ? "" : refusal.gauge() + ": ") + refusal.why(),
          reason);
      count = refused.computeIfAbsent(reason, r -> new LongAdder());
    }
    count.increment();
  }

  /** How it is now. */
  public synchronized State state() {
    Map<String, Long> counts = new TreeMap<>();
    refused.forEach((reason, count) -> counts.put(reason, count.sum()));
    return new State(
        name,
        connected,
        sinceMs,
        lastMs,
        taken.sum(),
        again.sum(),
        Map.copyOf(counts),
        Math.max(0, connections - 1),
        fault);
  }
}

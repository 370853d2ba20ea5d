package stillwatch.ingest.recording;

import java.util.function.Consumer;
import java.util.function.Supplier;
import stillwatch.ingest.telemetry.Pulse;

/**
 * Log time as a recording tells it: it never goes back, and where only entries say when it is, a
 * pulse comes at each whole second between them. Not thread-safe.
 */
public final class LogTime {
  private static final long GAP_MS = 24 * 3_600_000L;

  private final String well;
  private final Consumer<Pulse> pulses;
  private final Problems problems;
  private long nowMs = Long.MIN_VALUE;

  /**
   * Before the first entry.
   *
   * @param pulses takes the pulses
   * @param problems told of gaps that are too long to be filled
   */
  public LogTime(String well, Consumer<Pulse> pulses, Problems problems) {
    this.well = well;
    this.pulses = pulses;
    this.problems = problems;
  }

  /** Log time, ms since 1970 UTC; {@link Long#MIN_VALUE} before the first entry. */
  public long ms() {
    return nowMs;
  }

  /** Goes on to a time that the log itself states, without pulses. */
  public void stated(long toMs) {
    nowMs = Math.max(nowMs, toMs);
  }

  /**
   * Goes on to the time of an entry.
   *
   * @param here where that stands, for what is told
   */
  public void passTo(long toMs, Supplier<String> here) {
    if (nowMs != Long.MIN_VALUE && toMs - nowMs > GAP_MS) {
      problems.add(
          Problems.Sort.LONG_GAP, here.get() + "a gap of " + (toMs - nowMs) / 3_600_000 + " h");
      pulses.accept(new Pulse(well, toMs, toMs));
    } else if (nowMs != Long.MIN_VALUE) {
      for (long s = Math.floorDiv(nowMs, 1000) + 1; s * 1000 <= toMs; s++) {
        pulses.accept(new Pulse(well, s * 1000, s * 1000));
      }
    }
    nowMs = Math.max(nowMs, toMs);
  }
}

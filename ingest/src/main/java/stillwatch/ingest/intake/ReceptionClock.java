package stillwatch.ingest.intake;

import java.time.Clock;
import java.util.function.LongSupplier;

/**
 * The time of reception. It never runs backwards and never stands still: when the wall clock steps
 * back, it goes on at the pace of the machine's steady clock until the wall clock has caught up, so
 * that silence goes on being measured. Safe from any thread.
 */
final class ReceptionClock {
  private static final long NS_PER_MS = 1_000_000;

  private final Clock wall;
  private final LongSupplier steadyNs;
  private long baseMs;
  private long baseNs;

  /**
   * A clock.
   *
   * @param steadyNs a clock that nobody sets, ns from any origin
   */
  ReceptionClock(Clock wall, LongSupplier steadyNs) {
    this.wall = wall;
    this.steadyNs = steadyNs;
    baseMs = wall.millis();
    baseNs = steadyNs.getAsLong();
  }

  /** Never says anything before this moment, ms since 1970 UTC. */
  synchronized void startAt(long atLeastMs) {
    baseMs = Math.max(nowMs(), atLeastMs);
    baseNs = steadyNs.getAsLong();
  }

  /** Now, ms since 1970 UTC. */
  synchronized long nowMs() {
    long ns = steadyNs.getAsLong();
    long pacedMs = baseMs + (ns - baseNs) / NS_PER_MS;
    long wallMs = wall.millis();
    if (wallMs > pacedMs) {
      baseMs = wallMs;
      baseNs = ns;
      return wallMs;
    }
    return pacedMs;
  }
}

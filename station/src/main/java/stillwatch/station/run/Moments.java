package stillwatch.station.run;

import java.util.concurrent.locks.LockSupport;

/** Waits for moments until it is told to end, which any thread may do. */
final class Moments {
  private static final long SLEEP_AT_MOST_NS = 50_000_000;

  private volatile boolean ended;

  /** Waits until {@link System#nanoTime()} is that; false when told to end. */
  boolean reach(long untilNs) {
    for (long left = untilNs - System.nanoTime();
        left > 0 && !ended;
        left = untilNs - System.nanoTime()) {
      LockSupport.parkNanos(Math.min(left, SLEEP_AT_MOST_NS));
    }
    return !ended;
  }

  /** Ends it. */
  void end() {
    ended = true;
  }

  /** Whether it was told to end. */
  boolean ended() {
    return ended;
  }
}

package stillwatch.rules.watch;

import stillwatch.rules.indicator.LowTime;

/**
 * How long the shut-in pressure has been low. The clocks run from when the last closure step has
 * settled; they are based on the lowest gauge. A level above a limit sets its clock back only when
 * it has stayed there for a while, so that a tide, noise or a dip over the limit does not. Times
 * must increase. Not thread-safe.
 */
final class LowClock {
  /** So long the level must be above a limit before its clock is set back. */
  private static final long STAYS_MS = 5 * 60_000L;

  private static final long NEVER = Long.MIN_VALUE;

  private long leakSinceMs = NEVER;
  private long leakSeenMs = NEVER;
  private long belowSinceMs = NEVER;
  private long belowSeenMs = NEVER;
  private long nowMs = NEVER;

  /**
   * Takes the lowest level at a time of the sources.
   *
   * @param fromMs from when on low counts, source's time; {@link Long#MAX_VALUE} while it does not
   * @param periodMs how often the gauge reads, ms
   */
  void accept(
      long atMs, double lowest, double leakHigh, double intactLow, long fromMs, long periodMs) {
    if (atMs < fromMs) {
      leakSinceMs = NEVER;
      belowSinceMs = NEVER;
      nowMs = NEVER;
      return;
    }
    nowMs = Math.max(nowMs, atMs);
    if (Double.isNaN(lowest)) {
      return; // a moment without knowledge breaks no timing
    }
    long stays = Math.max(STAYS_MS, 3 * periodMs);
    if (lowest <= leakHigh) {
      leakSinceMs = leakSinceMs == NEVER ? atMs : leakSinceMs;
      leakSeenMs = atMs;
    } else if (atMs - leakSeenMs > stays) {
      leakSinceMs = NEVER;
    }
    if (lowest < intactLow) {
      belowSinceMs = belowSinceMs == NEVER ? atMs : belowSinceMs;
      belowSeenMs = atMs;
    } else if (atMs - belowSeenMs > stays) {
      belowSinceMs = NEVER;
    }
  }

  /**
   * How long it has been low.
   *
   * @param slope slope an hour over the last hour, kPa/h
   * @param slopeError its standard error
   */
  LowTime now(double slope, double slopeError) {
    return new LowTime(
        nowMs != NEVER,
        lasting(leakSinceMs),
        Math.max(0, leakSinceMs),
        lasting(belowSinceMs),
        Math.max(0, belowSinceMs),
        slope,
        slopeError);
  }

  private double lasting(long sinceMs) {
    return sinceMs == NEVER ? 0 : (nowMs - sinceMs) / 1000.0;
  }
}

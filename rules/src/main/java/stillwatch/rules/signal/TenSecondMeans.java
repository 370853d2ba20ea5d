package stillwatch.rules.signal;

/**
 * Means over blocks of ten seconds counted from 1970 UTC, {@code [0;10000), [10000;20000) …}, told
 * when the next block's first value comes. Times must increase. Not thread-safe.
 */
final class TenSecondMeans {
  static final long LENGTH_MS = 10_000;

  private long nowMs = Long.MIN_VALUE;
  private double sum;
  private int count;
  private long fromMs;
  private double mean = Double.NaN;

  /** Takes a finite value; says whether a block has just ended. */
  boolean accept(long atMs, double value) {
    boolean ended = false;
    if (nowMs == Long.MIN_VALUE || atMs >= nowMs + LENGTH_MS) {
      ended = nowMs != Long.MIN_VALUE;
      fromMs = nowMs;
      mean = sum / count;
      nowMs = Math.floorDiv(atMs, LENGTH_MS) * LENGTH_MS;
      sum = 0;
      count = 0;
    }
    sum += value;
    count++;
    return ended;
  }

  /** When the block that ended last began. */
  long fromMs() {
    return fromMs;
  }

  /** Its mean. */
  double mean() {
    return mean;
  }
}

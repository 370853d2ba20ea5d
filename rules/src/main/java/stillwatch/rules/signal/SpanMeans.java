package stillwatch.rules.signal;

/**
 * Means over spans of one length {@code w} counted from 1970 UTC, {@code [0;w), [w;2w) …}, told
 * when the next span's first value comes. Times must increase. Not thread-safe.
 */
final class SpanMeans {
  private final long lengthMs;

  private long nowMs = Long.MIN_VALUE;
  private double sum;
  private int count;
  private long fromMs;
  private double mean = Double.NaN;

  /** Means over spans of this length, ms. */
  SpanMeans(long lengthMs) {
    this.lengthMs = lengthMs;
  }

  /** Takes a finite value; says whether a span has just ended. */
  boolean accept(long atMs, double value) {
    boolean ended = false;
    if (nowMs == Long.MIN_VALUE || atMs >= nowMs + lengthMs) {
      ended = nowMs != Long.MIN_VALUE;
      fromMs = nowMs;
      mean = sum / count;
      nowMs = Math.floorDiv(atMs, lengthMs) * lengthMs;
      sum = 0;
      count = 0;
    }
    sum += value;
    count++;
    return ended;
  }

  /** When the span that ended last began. */
  long fromMs() {
    return fromMs;
  }

  /** Its mean. */
  double mean() {
    return mean;
  }
}

package stillwatch.rules.signal;

/**
 * The largest fall from one reading to the next, but for single wild ones, within about a span. A
 * well loses pressure over several readings; a gauge that was set anew loses it between two. Times
 * must increase. Not thread-safe.
 */
final class Jump {
  private final long spanMs;
  private double before = Double.NaN;
  private double last = Double.NaN;
  private double largest;
  private long largestMs;

  /** Jumps within this span, ms. */
  Jump(long spanMs) {
    this.spanMs = spanMs;
  }

  /** Takes a finite reading stamped later than the one before. */
  void accept(long atMs, double value) {
    // a fall counts when the next reading stays down
    double fall = Math.min(before - last, before - value);
    if (atMs - largestMs > 2 * spanMs) {
      largest = 0;
    }
    if (fall > largest) {
      largest = fall;
      largestMs = atMs;
    }
    before = last;
    last = value;
  }

  /** The largest such fall, zero or more. */
  double largestFall() {
    return largest;
  }
}

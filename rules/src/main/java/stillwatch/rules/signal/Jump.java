package stillwatch.rules.signal;

/**
 * The largest changes from one reading to the next, but for single wild ones, within about a span.
 * A well loses pressure over several readings; a gauge that was set anew loses it between two.
 * Times must increase. Not thread-safe.
 */
final class Jump {
  private final long spanMs;
  private double earlier = Double.NaN;
  private double before = Double.NaN;
  private double last = Double.NaN;
  private double fall;
  private long fallMs;
  private double rise;
  private long riseMs;

  /** Jumps within this span, ms. */
  Jump(long spanMs) {
    this.spanMs = spanMs;
  }

  /** Takes a finite reading stamped later than the one before. */
  void accept(long atMs, double value) {
    fall = atMs - fallMs > 2 * spanMs ? 0 : fall;
    rise = atMs - riseMs > 2 * spanMs ? 0 : rise;
    // a change counts from where two readings were to where two are: neither a wild one nor its end
    double down = Math.min(earlier, before) - Math.max(last, value);
    double up = Math.min(last, value) - Math.max(earlier, before);
    if (down > fall) {
      fall = down;
      fallMs = atMs;
    }
    if (up > rise) {
      rise = up;
      riseMs = atMs;
    }
    earlier = before;
    before = last;
    last = value;
  }

  /** The largest fall, zero or more. */
  double largestFall() {
    return fall;
  }

  /** The largest rise, zero or more. */
  double largestRise() {
    return rise;
  }
}

package stillwatch.rules.signal;

/**
 * How long readings have lain on one straight line, a level one included. The line starts at a
 * reading; each later one narrows the slopes that would still pass within the tolerance of all of
 * them, and when none is left a new line starts (the swinging-door idea). A gauge that is alive
 * breaks its line again and again; a dead one whose archive draws lines does not. Times must
 * increase. Not thread-safe.
 */
final class StraightLine {
  private final double tolerance;
  private long sinceMs = Long.MIN_VALUE;
  private double from;
  private double least;
  private double most;
  private long lastMs;
  private double lastValue;

  /** A line that allows this much to either side. */
  StraightLine(double tolerance) {
    this.tolerance = tolerance;
  }

  /** Takes a finite reading stamped later than the one before. */
  void accept(long atMs, double value) {
    if (sinceMs == Long.MIN_VALUE) {
      start(atMs, value);
    } else {
      double span = atMs - sinceMs;
      double slack = tolerance + 1e-9 * Math.abs(value);
      double low = (value - slack - from) / span;
      double high = (value + slack - from) / span;
      least = Math.max(least, low);
      most = Math.min(most, high);
      if (least > most) {
        start(lastMs, lastValue);
        double step = atMs - lastMs;
        least = (value - slack - lastValue) / step;
        most = (value + slack - lastValue) / step;
      }
    }
    lastMs = atMs;
    lastValue = value;
  }

  private void start(long atMs, double value) {
    sinceMs = atMs;
    from = value;
    least = Double.NEGATIVE_INFINITY;
    most = Double.POSITIVE_INFINITY;
  }

  /** How long the present line is, ms. */
  long lengthMs() {
    return sinceMs == Long.MIN_VALUE ? 0 : lastMs - sinceMs;
  }
}

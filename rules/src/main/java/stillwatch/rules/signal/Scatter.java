package stillwatch.rules.signal;

/**
 * Standard deviation of the noise about a smooth course: of three readings in a row the middle one
 * less the straight line through its neighbours, over the deviation this has for independent noise
 * of one, {@code √(1 + a² + b²)} with the neighbours' weights {@code a + b = 1}; the exponentially
 * weighted mean of its size times √(π/2), from the half-normal mean. A ramp adds nothing, however
 * steep. Clipped at six times the mean once warm, so one step moves it by less than 12/{@value
 * #MEMORY}. Times must increase. Not thread-safe.
 */
final class Scatter {
  private static final int MEMORY = 200;
  private static final int WARM = 6;
  private static final double CLIP = 6;
  private static final double FROM_MEAN_ABSOLUTE = Math.sqrt(Math.PI / 2);

  private final long longestMs;
  private long firstMs = Long.MIN_VALUE;
  private long middleMs = Long.MIN_VALUE;
  private double first;
  private double middle;
  private double meanAbsolute;
  private long count;

  /** A scatter of readings of which three in a row span no more than this, ms. */
  Scatter(long longestMs) {
    this.longestMs = longestMs;
  }

  /** Takes a finite reading stamped later than the one before. */
  void accept(long atMs, double value) {
    if (firstMs != Long.MIN_VALUE && atMs - firstMs <= longestMs) {
      double b = (double) (middleMs - firstMs) / (atMs - firstMs);
      double a = 1 - b;
      double off = Math.abs(middle - a * first - b * value) / Math.sqrt(1 + a * a + b * b);
      count++;
      if (count > WARM && meanAbsolute > 0) {
        off = Math.min(off, CLIP * meanAbsolute);
      }
      meanAbsolute += (off - meanAbsolute) / Math.min(count, MEMORY);
    }
    firstMs = middleMs;
    first = middle;
    middleMs = atMs;
    middle = value;
  }

  /** The deviation; NaN until {@value #WARM} readings have been compared with their neighbours. */
  double sigma() {
    return count < WARM ? Double.NaN : meanAbsolute * FROM_MEAN_ABSOLUTE;
  }
}

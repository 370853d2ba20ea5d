package stillwatch.bench.real;

/**
 * Between which values a gauge moved, Pa.
 *
 * @param low the lowest
 * @param high the highest
 */
record Span(double low, double high) {
  private static final long TEN_MINUTES_MS = 600_000;
  private static final double BAR = 1e5;

  /** The ten minutes before an instant. */
  static Span before(Series series, String gauge, long atMs) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    double[] values = series.of(gauge);
    for (int i = 0; i < values.length; i++) {
      long ago = atMs - series.atMs()[i];
      if (ago >= 0 && ago <= TEN_MINUTES_MS && !Double.isNaN(values[i])) {
        low = Math.min(low, values[i]);
        high = Math.max(high, values[i]);
      }
    }
    return new Span(low, high);
  }

  /** Whether this moved by more than 10 bar and its neighbour, which is alive, by less than one. */
  boolean glitchesBeside(Span neighbour) {
    return high - low > 10 * BAR && neighbour.low > BAR && neighbour.high - neighbour.low < BAR;
  }
}

package stillwatch.rules.signal;

/**
 * Standard deviation of the noise from reading to reading: an exponentially weighted mean of the
 * absolute first difference times √π/2. For independent Gaussian noise E|Δ| = 2σ/√π, from the
 * half-normal mean σ√(2/π) with a difference's deviation σ√2. A trend of less than the noise per
 * reading adds little; differences are clipped at six times the estimate once it has warmed up, so
 * one spike moves it by less than 6/{@value #MEMORY}. Not thread-safe.
 */
final class Noise {
  private static final int MEMORY = 200;
  private static final int WARM = 20;
  private static final double FROM_MEAN_ABSOLUTE = Math.sqrt(Math.PI) / 2;

  private double last = Double.NaN;
  private double meanAbsolute;
  private long count;

  /** Takes a finite reading. */
  void accept(double value) {
    double before = last;
    last = value;
    if (Double.isNaN(before)) {
      return;
    }
    double d = Math.abs(value - before);
    count++;
    if (count > WARM && meanAbsolute > 0) {
      d = Math.min(d, 6 * meanAbsolute);
    }
    meanAbsolute += (d - meanAbsolute) / Math.min(count, MEMORY);
  }

  /** The standard deviation; NaN until {@value #WARM} differences have been seen. */
  double sigma() {
    return count < WARM ? Double.NaN : meanAbsolute * FROM_MEAN_ABSOLUTE;
  }
}

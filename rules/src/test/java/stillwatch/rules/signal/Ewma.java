package stillwatch.rules.signal;

/**
 * Exponentially weighted moving average of standardised values, {@code E ← λz + (1 − λ)E} from 0
 * (S. W. Roberts, Technometrics 1, 1959, 239-250; run lengths: J. M. Lucas and M. S. Saccucci,
 * Technometrics 32, 1990, 1-12; both from memory). For independent values its variance after {@code
 * n} of them is {@code λ/(2 − λ) · (1 − (1 − λ)^2n)}; limits are so many deviations of that, or of
 * its final value {@code λ/(2 − λ)}. With {@code λ = 1} it is the last value, and the chart
 * Shewhart's. Not thread-safe.
 */
public final class Ewma {
  private final double lambda;
  private final boolean exact;
  private final double finalVariance;
  private double value;
  private double forgotten = 1;

  private Ewma(double lambda, boolean exact) {
    if (!(lambda > 0 && lambda <= 1)) {
      throw new IllegalArgumentException(
          "the weight of the newest value is " + lambda + "; it must be over 0 and at most 1");
    }
    this.lambda = lambda;
    this.exact = exact;
    finalVariance = lambda / (2 - lambda);
  }

  /** An average whose limits are those of its final variance from the first value on. */
  public static Ewma withFixedLimits(double lambda) {
    return new Ewma(lambda, false);
  }

  /** An average whose limits begin narrow and widen with its variance, quicker in the beginning. */
  public static Ewma withStartUpLimits(double lambda) {
    return new Ewma(lambda, true);
  }

  /** Takes a finite value in deviations from what is expected; returns the average. */
  public double accept(double z) {
    value += lambda * (z - value);
    forgotten *= (1 - lambda) * (1 - lambda);
    return value;
  }

  /** Whether the average is farther from 0 than so many of its own deviations, to either side. */
  public boolean beyond(double deviations) {
    return Math.abs(value) > deviations * sigma();
  }

  /** The average, in deviations of one value; 0 before the first. */
  public double value() {
    return value;
  }

  /** The average's own deviation by which limits are measured. */
  public double sigma() {
    return Math.sqrt(finalVariance * (exact ? 1 - forgotten : 1));
  }

  /** Begins again from 0. */
  public void restart() {
    value = 0;
    forgotten = 1;
  }
}

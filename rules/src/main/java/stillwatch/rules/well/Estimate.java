package stillwatch.rules.well;

import java.util.List;

/**
 * A value and how sure it is.
 *
 * @param value the most likely
 * @param deviation its standard deviation
 */
public record Estimate(double value, double deviation) {
  /** Two-sided 90 % of a normal distribution lies within so many deviations. */
  private static final double NINETY = 1.6449;

  /** Below this with one chance in twenty. */
  public double low() {
    return value - NINETY * deviation;
  }

  /** Above this with one chance in twenty. */
  public double high() {
    return value + NINETY * deviation;
  }

  /** One of several, with these weights that sum to one. */
  static Estimate mixed(List<Estimate> all, double[] weights) {
    double mean = 0;
    for (int k = 0; k < weights.length; k++) {
      mean += weights[k] * all.get(k).value();
    }
    double square = 0;
    for (int k = 0; k < weights.length; k++) {
      double off = all.get(k).value() - mean;
      square += weights[k] * (all.get(k).deviation() * all.get(k).deviation() + off * off);
    }
    return new Estimate(mean, Math.sqrt(square));
  }

  /** Weights that sum to one, of the logarithms of weights. */
  static double[] weights(double[] logarithms) {
    double most = Double.NEGATIVE_INFINITY;
    for (double l : logarithms) {
      most = Math.max(most, l);
    }
    double[] weights = new double[logarithms.length];
    double sum = 0;
    for (int k = 0; k < weights.length; k++) {
      weights[k] = StrictMath.exp(logarithms[k] - most);
      sum += weights[k];
    }
    for (int k = 0; k < weights.length; k++) {
      weights[k] /= sum;
    }
    return weights;
  }
}

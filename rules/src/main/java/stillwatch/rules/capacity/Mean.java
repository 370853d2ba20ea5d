package stillwatch.rules.capacity;

/**
 * A mean over random trials.
 *
 * @param error its standard error: the deviation of the trials over the root of their number
 */
public record Mean(double value, double error) {
  static Mean of(double[] samples) {
    double sum = 0;
    for (double s : samples) {
      sum += s;
    }
    double mean = sum / samples.length;
    double squares = 0;
    for (double s : samples) {
      squares += (s - mean) * (s - mean);
    }
    double variance = samples.length < 2 ? 0 : squares / (samples.length - 1);
    return new Mean(mean, Math.sqrt(variance / samples.length));
  }

  /**
   * The sum of what came over the sum of what it came in; 0 where that is none. Its error is that
   * of a ratio of means (Cochran, Sampling Techniques, on ratio estimates, from memory).
   */
  static Mean ofRatio(double[] came, double[] in) {
    double base = of(in).value();
    if (base == 0) {
      return new Mean(0, 0);
    }
    double ratio = of(came).value() / base;
    double[] off = new double[came.length];
    for (int i = 0; i < off.length; i++) {
      off[i] = came[i] - ratio * in[i];
    }
    return new Mean(ratio, of(off).error() / base);
  }
}

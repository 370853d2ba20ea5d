package stillwatch.rules.capacity;

/**
 * A figure that random trials gave, and how sure it is.
 *
 * @param value the figure
 * @param low lower end of its 95 % interval
 * @param high upper end
 */
public record Interval(double value, double low, double high) {
  /** Two-sided 95 % of a normal distribution lies within so many deviations. */
  private static final double Z = 1.959964;

  /**
   * The probability of what came in so many of the trials. The interval is Wilson's (Journal of the
   * American Statistical Association 22, 1927, p. 209), which keeps a width where none or all of
   * the trials count.
   *
   * @throws IllegalArgumentException when there is no trial
   */
  static Interval ofShare(int counted, int trials) {
    if (trials <= 0) {
      throw new IllegalArgumentException("a share needs a trial, there are " + trials);
    }
    double p = counted / (double) trials;
    double scale = 1 + Z * Z / trials;
    double middle = (p + Z * Z / (2 * trials)) / scale;
    double half = Z * Math.sqrt(p * (1 - p) / trials + Z * Z / (4.0 * trials * trials)) / scale;
    return new Interval(p, counted == 0 ? 0 : middle - half, counted == trials ? 1 : middle + half);
  }

  /**
   * What this share of all trials stays at or below. The ends are the values whose ranks lie as far
   * off as the binomial count below the quantile does (Conover, Practical Nonparametric Statistics,
   * on confidence intervals of a quantile, from memory).
   *
   * @param sorted the trials' values, rising
   * @param share above 0, below 1
   */
  static Interval ofQuantile(double[] sorted, double share) {
    double rank = share * sorted.length;
    double off = Z * Math.sqrt(rank * (1 - share));
    return new Interval(at(sorted, rank), at(sorted, rank - off), at(sorted, rank + off));
  }

  private static double at(double[] sorted, double rank) {
    return sorted[(int) Math.max(0, Math.min(sorted.length - 1.0, Math.ceil(rank) - 1))];
  }
}

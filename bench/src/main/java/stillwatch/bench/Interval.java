package stillwatch.bench;

/** A 95 % confidence interval. */
public record Interval(double low, double high) {
  private static final double Z = 1.959963984540054;

  /** Of a share, hits of n (E. B. Wilson, J. Am. Stat. Assoc. 22, 1927, 209-212). */
  public static Interval ofShare(int hits, int n) {
    double p = (double) hits / n;
    double zz = Z * Z / n;
    double middle = p + zz / 2;
    double half = Z * Math.sqrt(p * (1 - p) / n + zz / (4 * n));
    return new Interval(
        Math.max(0, (middle - half) / (1 + zz)), Math.min(1, (middle + half) / (1 + zz)));
  }

  /**
   * Of a Poisson count, by Byar's approximation (N. E. Breslow and N. E. Day, Statistical Methods
   * in Cancer Research II, IARC 1987, p. 69).
   */
  public static Interval ofCount(int count) {
    double up = count + 1;
    double low =
        count == 0 ? 0 : count * Math.pow(1 - 1 / (9.0 * count) - Z / (3 * Math.sqrt(count)), 3);
    return new Interval(low, up * Math.pow(1 - 1 / (9 * up) + Z / (3 * Math.sqrt(up)), 3));
  }
}

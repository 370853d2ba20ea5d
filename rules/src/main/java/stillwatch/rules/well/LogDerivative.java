package stillwatch.rules.well;

/**
 * The derivative of pressure on the logarithm of time, smoothed by taking, for each point, the
 * nearest points at least a distance away on both sides and weighting the two slopes (D. Bourdet,
 * T. M. Whittle, A. A. Douglas and Y. M. Pirard, A New Set of Type Curves Simplifies Well Test
 * Analysis, World Oil, May 1983, 95-106).
 */
public final class LogDerivative {
  private LogDerivative() {}

  /**
   * Derivatives at all points.
   *
   * @param x logarithms of time, increasing
   * @param p pressures
   * @param distance how far on {@code x} the neighbours must be, at least; 0 for the next ones
   * @return dp/dx; NaN where one side has no neighbour so far away
   */
  public static double[] of(double[] x, double[] p, double distance) {
    double[] d = new double[x.length];
    for (int i = 0; i < x.length; i++) {
      int before = i - 1;
      while (before >= 0 && x[i] - x[before] < distance) {
        before--;
      }
      int after = i + 1;
      while (after < x.length && x[after] - x[i] < distance) {
        after++;
      }
      if (before < 0 || after == x.length) {
        d[i] = Double.NaN;
      } else {
        double dx1 = x[i] - x[before];
        double dx2 = x[after] - x[i];
        double slope1 = (p[i] - p[before]) / dx1;
        double slope2 = (p[after] - p[i]) / dx2;
        d[i] = (slope1 * dx2 + slope2 * dx1) / (dx1 + dx2);
      }
    }
    return d;
  }
}

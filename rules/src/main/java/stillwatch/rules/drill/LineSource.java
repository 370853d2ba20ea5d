package stillwatch.rules.drill;

/**
 * Pressure at a producing well in an infinite reservoir, by the line-source solution and
 * superposition in time: a change of rate {@code Δq} at time {@code tj} lowers the pressure at
 * {@code t} by {@code Δq·(m/ln 10)·E1(x/(t−tj))}, where {@code m} is the slope per log cycle at
 * unit rate and {@code x = φμc r²/(4k)} in hours (R. C. Earlougher, Advances in Well Test Analysis,
 * SPE Monograph 5, 1977, ch. 2). Neglects storage, skin and boundaries.
 */
final class LineSource {
  private static final double EULER_GAMMA = 0.577215664901532860606512;

  private final double slopePerCycle;
  private final double xHours;

  /**
   * A well.
   *
   * @param slopePerCycle pressure per log10 cycle at unit rate
   * @param xHours the argument of E1 at one hour
   */
  LineSource(double slopePerCycle, double xHours) {
    this.slopePerCycle = slopePerCycle;
    this.xHours = xHours;
  }

  /** How much a unit rate lowers the pressure after these hours; 0 at or before zero. */
  double perUnitRate(double hours) {
    return hours <= 0 ? 0 : slopePerCycle / StrictMath.log(10) * e1(xHours / hours);
  }

  /**
   * The exponential integral E1 for x &gt; 0: the power series up to 1, above it Lentz's continued
   * fraction (Abramowitz and Stegun 1964, 5.1.11 and 5.1.22).
   */
  static double e1(double x) {
    if (x <= 1) {
      double sum = 0;
      double term = 1;
      for (int n = 1; n <= 40; n++) {
        term *= -x / n;
        sum -= term / n;
      }
      return -EULER_GAMMA - StrictMath.log(x) + sum;
    }
    double b = x + 1;
    double c = 1e300;
    double d = 1 / b;
    double h = d;
    for (int i = 1; i <= 500; i++) {
      double a = -(double) i * i;
      b += 2;
      d = 1 / (a * d + b);
      c = b + a / c;
      double factor = c * d;
      h *= factor;
      if (Math.abs(factor - 1) < 1e-15) {
        break;
      }
    }
    return h * StrictMath.exp(-x);
  }
}

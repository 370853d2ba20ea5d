package stillwatch.rules.well;

/** The exponential integral. */
public final class ExponentialIntegral {
  static final double EULER_GAMMA = 0.5772156649015329;

  private ExponentialIntegral() {}

  /**
   * E1 for x &gt; 0: the power series up to 1, above it Lentz's continued fraction (Abramowitz and
   * Stegun 1964, 5.1.11 and 5.1.22).
   */
  public static double e1(double x) {
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

package stillwatch.rules.well;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.util.function.DoubleUnaryOperator;

/**
 * Numerical inversion of a Laplace transform on the real axis (H. Stehfest, Algorithm 368,
 * Communications of the ACM 13, 1970, 47-49). For smooth functions only: it fails on oscillation
 * and on anything that decays much faster than a power of time.
 */
public final class Stehfest {
  private static final double LN2 = StrictMath.log(2);
  private static final MathContext DIGITS = new MathContext(40);

  private final double[] weights;

  /**
   * An inversion.
   *
   * @param terms how many; even, 4 to 18; 12 suits doubles
   */
  public Stehfest(int terms) {
    if (terms % 2 != 0 || terms < 4 || terms > 18) {
      throw new IllegalArgumentException("the number of terms must be even, from 4 to 18");
    }
    weights = new double[terms];
    for (int i = 1; i <= terms; i++) {
      weights[i - 1] = weight(i, terms);
    }
  }

  private static double weight(int i, int terms) {
    int half = terms / 2;
    BigDecimal sum = BigDecimal.ZERO;
    for (int k = (i + 1) / 2; k <= Math.min(i, half); k++) {
      BigInteger above = BigInteger.valueOf(k).pow(half).multiply(factorial(2 * k));
      BigInteger below =
          factorial(half - k)
              .multiply(factorial(k))
              .multiply(factorial(k - 1))
              .multiply(factorial(i - k))
              .multiply(factorial(2 * k - i));
      sum = sum.add(new BigDecimal(above).divide(new BigDecimal(below), DIGITS));
    }
    return ((i + half) % 2 == 0 ? sum : sum.negate()).doubleValue();
  }

  private static BigInteger factorial(int n) {
    BigInteger product = BigInteger.ONE;
    for (int i = 2; i <= n; i++) {
      product = product.multiply(BigInteger.valueOf(i));
    }
    return product;
  }

  /** The weights, first to last. */
  double[] weights() {
    return weights.clone();
  }

  /** The function of time whose transform this is, at a time above zero. */
  public double invert(DoubleUnaryOperator transform, double time) {
    double a = LN2 / time;
    double sum = 0;
    for (int i = 1; i <= weights.length; i++) {
      sum += weights[i - 1] * transform.applyAsDouble(i * a);
    }
    return a * sum;
  }
}

package stillwatch.rules.well;

/**
 * How far the pressure at a well in the middle of a closed circular reservoir falls below that in
 * an infinite one, dimensionless: {@code 2t − 3/4 − ½·ln t − 0.4045 − 2·Σ exp(−β²t)/(β²·J0(β)²)}
 * over the roots β of J1, with t the dimensionless time on the outer radius (A. F. van Everdingen
 * and W. Hurst, Transactions of AIME 186, 1949, 305-324, for a well small against the reservoir).
 */
final class BoundedReservoir {
  /** Roots of J1 and the values of J0 there (Abramowitz and Stegun 1964, Table 9.5). */
  private static final double[][] ROOTS = {
    {3.83170597020751, -0.402759395702553},
    {7.01558666981562, 0.300115752526133},
    {10.17346813506272, -0.249704877057843},
    {13.32369193631422, 0.218359407247873},
    {16.47063005087763, -0.196465371468657},
    {19.61585851046824, 0.180063375344316}
  };

  /** Half of 0.80907, the constant of the logarithmic approximation. */
  private static final double HALF = 0.404535;

  /** Before this the boundary is not felt. */
  private static final double FELT = 0.05;

  private BoundedReservoir() {}

  /** The difference at a dimensionless time on the outer radius. */
  static double below(double time) {
    if (time < FELT) {
      return 0;
    }
    double sum = 2 * time - 0.75 - StrictMath.log(time) / 2 - HALF;
    for (double[] root : ROOTS) {
      double b2 = root[0] * root[0];
      sum -= 2 * StrictMath.exp(-b2 * time) / (b2 * root[1] * root[1]);
    }
    return sum;
  }
}

package stillwatch.rules.drill;

import stillwatch.rules.well.ExponentialIntegral;

/**
 * Pressure at a producing well in an infinite reservoir, by the line-source solution and
 * superposition in time: a change of rate {@code Δq} at time {@code tj} lowers the pressure at
 * {@code t} by {@code Δq·(m/ln 10)·E1(x/(t−tj))}, where {@code m} is the slope per log cycle at
 * unit rate and {@code x = φμc r²/(4k)} in hours (R. C. Earlougher, Advances in Well Test Analysis,
 * SPE Monograph 5, 1977, ch. 2). Neglects storage, skin and boundaries.
 */
final class LineSource {
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
    return hours <= 0
        ? 0
        : slopePerCycle / StrictMath.log(10) * ExponentialIntegral.e1(xHours / hours);
  }
}

package stillwatch.rules.well;

/**
 * What a straight line says of the rock, from the radial-flow solution (R. C. Earlougher, Advances
 * in Well Test Analysis, SPE Monograph 5, 1977, ch. 5). SI units throughout.
 */
public final class RadialFlow {
  /** {@code ln 10/(4π)}: the slope per log10 cycle is this times qBμ/(kh). */
  static final double SLOPE = StrictMath.log(10) / (4 * Math.PI);

  private static final double PER_LOG_TIME =
      StrictMath.log10(4 / StrictMath.exp(ExponentialIntegral.EULER_GAMMA));

  private RadialFlow() {}

  /**
   * Permeability-thickness, m²·m.
   *
   * @param rate q·B at the sandface, m³/s
   * @param viscosity Pa·s
   * @param slopePerCycle Pa, without sign
   */
  public static double permeabilityThickness(double rate, double viscosity, double slopePerCycle) {
    return SLOPE * rate * viscosity / slopePerCycle;
  }

  /**
   * The slope per log10 cycle, Pa, of rock with this permeability-thickness (m²·m) at this rate.
   */
  public static double slopePerCycle(double rate, double viscosity, double thickness) {
    return SLOPE * rate * viscosity / thickness;
  }

  /**
   * Skin.
   *
   * @param rise from the flowing pressure just before the shut-in to the line's pressure so many
   *     seconds after it, same unit as the slope
   * @param slopePerCycle without sign
   * @param seconds the time since the shut-in to which {@code rise} belongs, short against the
   *     flowing time
   * @param diffusivity k/(φμc), m²/s
   * @param radius of the well, m
   */
  public static double skin(
      double rise, double slopePerCycle, double seconds, double diffusivity, double radius) {
    double time = StrictMath.log10(diffusivity * seconds / (radius * radius));
    return StrictMath.log(10) / 2 * (rise / slopePerCycle - time - PER_LOG_TIME);
  }
}

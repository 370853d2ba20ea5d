package stillwatch.rules.well;

/**
 * Pressure in the sea by depth and latitude, for water of 0 °C and salinity 35 (N. P. Fofonoff and
 * R. C. Millard, Algorithms for computation of fundamental properties of seawater, UNESCO Technical
 * Papers in Marine Science 44, 1983, eq. 25). Other waters differ by less than 0.1 %.
 */
public final class SeaWater {
  private static final double KPA_PER_DECIBAR = 10;

  private SeaWater() {}

  /**
   * Depth, m.
   *
   * @param decibar pressure of the sea alone, without the air's
   * @param latitude degrees
   */
  static double depth(double decibar, double latitude) {
    double sine = StrictMath.sin(StrictMath.toRadians(latitude));
    double s2 = sine * sine;
    double gravity = 9.780318 * (1 + (5.2788e-3 + 2.36e-5 * s2) * s2) + 1.092e-6 * decibar;
    double p = decibar;
    return (((-1.82e-15 * p + 2.279e-10) * p - 2.2512e-5) * p + 9.72659) * p / gravity;
  }

  /** Pressure of the sea alone, kPa, at a depth in metres. */
  public static double pressure(double depth, double latitude) {
    double p = depth * 1.01;
    for (int i = 0; i < 6; i++) { // the formula is all but straight: each round gains three digits
      p += (depth - depth(p, latitude)) * 1.01;
    }
    return p * KPA_PER_DECIBAR;
  }
}

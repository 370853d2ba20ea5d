package stillwatch.rules.well;

/**
 * Dimensionless pressure at a well of finite radius with wellbore storage and skin in an infinite
 * reservoir, flowing at constant rate (R. G. Agarwal, R. Al-Hussainy and H. J. Ramey, SPE Journal
 * 10, 1970, 279-290; Laplace form).
 *
 * @param storage dimensionless storage CD
 * @param skin S, not below zero
 */
public record RadialWell(double storage, double skin) {
  private static final Stehfest INVERSION = new Stehfest(12);

  /** The dimensionless pressure at a dimensionless time. */
  public double pressure(double time) {
    return INVERSION.invert(this::transform, time);
  }

  private double transform(double u) {
    double r = StrictMath.sqrt(u);
    double k0 = BesselK.k0(r);
    double rk1 = r * BesselK.k1(r);
    double face = k0 + skin * rk1;
    return face / (u * (rk1 + storage * u * face));
  }
}

package stillwatch.rules.well;

/** A standing fluid: how pressure changes with depth in it. */
public sealed interface FluidColumn {
  /** Standard gravity, m/s² (ISO 80000-3). */
  double GRAVITY = 9.80665;

  /**
   * The pressure at a depth, kPa absolute.
   *
   * @param depth where, m
   * @param fromDepth where the pressure is known, m
   * @param fromPressure that pressure, kPa absolute
   */
  double pressure(double depth, double fromDepth, double fromPressure);

  /** A fluid of one density. */
  record Even(double gradient) implements FluidColumn {
    @Override
    public double pressure(double depth, double fromDepth, double fromPressure) {
      return fromPressure + gradient * (depth - fromDepth);
    }
  }

  /**
   * A liquid whose density changes with pressure and temperature by a constant compressibility and
   * a constant thermal expansion: {@code ρ = ρ0·exp(c(p − p0) − β(T − T0))}, the definitions of c
   * and β integrated. Its temperature is straight with depth. Integrated by Runge and Kutta's
   * fourth-order rule.
   *
   * @param density ρ0, kg/m³, at the reference pressure and temperature
   * @param atPressure p0, kPa
   * @param atTemperature T0, °C
   * @param compressibility c, 1/kPa
   * @param expansion β, 1/K
   * @param top a depth, m, with its temperature, °C
   * @param bottom another, deeper
   */
  record Liquid(
      double density,
      double atPressure,
      double atTemperature,
      double compressibility,
      double expansion,
      Warmth top,
      Warmth bottom)
      implements FluidColumn {
    private static final int STEPS = 40;

    @Override
    public double pressure(double depth, double fromDepth, double fromPressure) {
      double h = (depth - fromDepth) / STEPS;
      double z = fromDepth;
      double p = fromPressure;
      for (int i = 0; i < STEPS; i++) {
        double k1 = gradient(z, p);
        double k2 = gradient(z + h / 2, p + h / 2 * k1);
        double k3 = gradient(z + h / 2, p + h / 2 * k2);
        double k4 = gradient(z + h, p + h * k3);
        p += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
        z += h;
      }
      return p;
    }

    private double gradient(double z, double p) {
      double t =
          top.celsius()
              + (bottom.celsius() - top.celsius())
                  * (z - top.depth())
                  / (bottom.depth() - top.depth());
      return density
          * StrictMath.exp(compressibility * (p - atPressure) - expansion * (t - atTemperature))
          * GRAVITY
          / 1000;
    }
  }

  /** How warm it is at a depth, m and °C. */
  record Warmth(double depth, double celsius) {}
}

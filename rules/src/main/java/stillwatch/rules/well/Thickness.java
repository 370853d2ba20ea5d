package stillwatch.rules.well;

import java.util.Arrays;

/**
 * A permeability-thickness with its 90 % interval, µm²·m.
 *
 * @param low one chance in twenty that it lies below
 * @param likely half lies below
 * @param high one chance in twenty that it lies above
 */
public record Thickness(double low, double likely, double high) {
  private static final int DRAWS = 4_000;

  /**
   * The steps between draws in four dimensions, powers of 1/1.16730…, the root of x⁵ = x + 1: they
   * fill the unit cube evenly.
   */
  private static final double STEP = 1 / 1.1673039782614187;

  /**
   * What a slope says, with what the facts leave open of rate, volume factor and viscosity.
   *
   * @param slope per log10 cycle at the flowing rate, kPa, well above nothing
   */
  public static Thickness of(Estimate slope, WellFacts.Flow flow, WellFacts.Rock rock) {
    Uncertain sloping = Uncertain.normal(slope.value(), Math.max(1e-9, slope.deviation()));
    double[] drawn = new double[DRAWS];
    for (int i = 0; i < DRAWS; i++) {
      double rate = draw(flow.rate(), i, 1) * draw(flow.volumeFactor(), i, 2) / 86_400;
      double viscosity = draw(rock.viscosity(), i, 3) * 1e-3;
      double perCycle = Math.max(1e-3 * slope.value(), draw(sloping, i, 4)) * 1000;
      drawn[i] = RadialFlow.permeabilityThickness(rate, viscosity, perCycle) * 1e12;
    }
    Arrays.sort(drawn);
    return new Thickness(drawn[DRAWS / 20], drawn[DRAWS / 2], drawn[DRAWS - 1 - DRAWS / 20]);
  }

  private static double draw(Uncertain quantity, int i, int dimension) {
    double place = 0.5 + (i + 1) * StrictMath.pow(STEP, dimension);
    return quantity.quantile(Math.max(1e-6, place - Math.floor(place)));
  }
}

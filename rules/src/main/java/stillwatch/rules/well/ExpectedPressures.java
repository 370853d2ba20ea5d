package stillwatch.rules.well;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What the facts lead one to expect at the wellhead, kPa absolute, by drawing the uncertain ones
 * again and again (Monte Carlo).
 *
 * @param draws how many
 * @param seed of the draws
 * @param intact shut-in pressure of an intact well once it has built up
 * @param depletion what the reservoir has lost by what flowed out of it
 * @param leaks the level that each leak into rock settles near
 * @param ceilings the greatest wellhead pressure each barrier bears, without margin
 * @param ceiling what may not be exceeded; null when no barrier is stated
 * @param build expected pressure of an intact well by time since shut-in; empty when the rock is
 *     not known
 */
public record ExpectedPressures(
    int draws,
    long seed,
    Percentiles intact,
    Percentiles depletion,
    List<Named> leaks,
    List<Named> ceilings,
    @Nullable Ceiling ceiling,
    List<AtTime> build) {
  private static final int DRAWS = 40_000;
  private static final long SEED = 1;

  /**
   * A pressure that belongs to a place.
   *
   * @param depth m
   */
  public record Named(String name, double depth, Percentiles pressure) {}

  /**
   * What may not be exceeded.
   *
   * @param pressure the lowest limit of each draw, less the margin
   * @param governing the barrier that was the lowest most often
   */
  public record Ceiling(Percentiles pressure, String governing) {}

  /**
   * What to expect so many hours after the shut-in.
   *
   * @param pressure of an intact well
   * @param leakHigh at or below this the level is consistent with a leak into rock, kPa: no well
   *     stands higher than an intact one would by then; NaN when no leak is stated
   */
  public record AtTime(double hours, Percentiles pressure, double leakHigh) {
    /** At or above this the level is consistent with an intact well, kPa. */
    public double intactLow() {
      return pressure.p10();
    }
  }

  /** Draws. */
  public static ExpectedPressures of(WellFacts facts) {
    return of(facts, DRAWS, SEED);
  }

  static ExpectedPressures of(WellFacts facts, int draws, long seed) {
    return new Draws(facts, draws, seed).expected();
  }

  /** kPa per log10 cycle. */
  static double slopePerCycle(double m3PerDay, double viscosity, double thickness) {
    return RadialFlow.slopePerCycle(m3PerDay / 86_400, viscosity * 1e-3, thickness * 1e-12) / 1000;
  }

  /** At or above this the level is consistent with an intact well, kPa. */
  public double intactLow() {
    return intact.p10();
  }

  /** At or below this the level is consistent with a leak into rock; NaN when none is stated. */
  public double leakHigh() {
    return leaks.stream().mapToDouble(l -> l.pressure().p90()).max().orElse(Double.NaN);
  }

  /** Not to be exceeded: the margin below what nine draws in ten bear; NaN when none is stated. */
  public double limit() {
    return ceiling == null ? Double.NaN : ceiling.pressure().p10();
  }
}

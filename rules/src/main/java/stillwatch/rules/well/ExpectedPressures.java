package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
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

  /** Hours since shut-in at which the expected build-up is told. */
  private static final double[] HOURS = {0.1, 0.2, 0.5, 1, 2, 3, 6, 12, 24, 48, 96};

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
    Random random = new Random(seed);
    double[] intact = new double[draws];
    double[] depletion = new double[draws];
    double[] ceiling = new double[draws];
    double[][] leaks = new double[facts.leaks().size()][draws];
    double[][] ceilings = new double[facts.barriers().size()][draws];
    double[][] build = new double[HOURS.length][draws];
    int[] lowest = new int[facts.barriers().size()];
    double wellhead = facts.wellheadDepth();
    for (int i = 0; i < draws; i++) {
      FluidColumn column = facts.column(u -> draw(u, random));
      WellFacts.Flow flow = facts.flow();
      double out = 0;
      if (flow != null) {
        out = draw(flow.rate(), random) * draw(flow.volumeFactor(), random);
      }
      depletion[i] = depletion(facts, out, random);
      intact[i] =
          column.pressure(
              wellhead, facts.datumDepth(), draw(facts.reservoirPressure(), random) - depletion[i]);
      for (int k = 0; k < leaks.length; k++) {
        WellFacts.LeakPath leak = facts.leaks().get(k);
        leaks[k][i] =
            Math.min(
                intact[i], column.pressure(wellhead, leak.depth(), draw(leak.takes(), random)));
      }
      int least = 0;
      for (int k = 0; k < ceilings.length; k++) {
        WellFacts.Barrier barrier = facts.barriers().get(k);
        Uncertain outside = barrier.outside();
        double bears =
            draw(barrier.rating(), random)
                + (outside == null ? facts.sea().pressure(barrier.depth()) : draw(outside, random));
        ceilings[k][i] = column.pressure(wellhead, barrier.depth(), bears);
        least = ceilings[k][i] < ceilings[least][i] ? k : least;
      }
      if (ceilings.length > 0) {
        lowest[least]++;
        ceiling[i] = ceilings[least][i] - facts.margin();
      }
      WellFacts.Rock rock = facts.rock();
      if (flow != null && rock != null) {
        double slope =
            slopePerCycle(out, draw(rock.viscosity(), random), draw(rock.thickness(), random));
        for (int h = 0; h < HOURS.length; h++) {
          build[h][i] = intact[i] - slope * StrictMath.log10((flow.hours() + HOURS[h]) / HOURS[h]);
        }
      }
    }
    int governing = 0;
    for (int k = 1; k < lowest.length; k++) {
      governing = lowest[k] > lowest[governing] ? k : governing;
    }
    List<Named> namedLeaks = new ArrayList<>();
    for (int k = 0; k < leaks.length; k++) {
      WellFacts.LeakPath leak = facts.leaks().get(k);
      namedLeaks.add(new Named(leak.name(), leak.depth(), Percentiles.of(leaks[k])));
    }
    List<Named> namedCeilings = new ArrayList<>();
    for (int k = 0; k < ceilings.length; k++) {
      WellFacts.Barrier barrier = facts.barriers().get(k);
      namedCeilings.add(new Named(barrier.name(), barrier.depth(), Percentiles.of(ceilings[k])));
    }
    List<AtTime> curve = new ArrayList<>();
    if (facts.flow() != null && facts.rock() != null) {
      for (int h = 0; h < HOURS.length; h++) {
        curve.add(new AtTime(HOURS[h], Percentiles.of(build[h]), leakHigh(leaks, build[h])));
      }
    }
    boolean none = ceilings.length == 0;
    return new ExpectedPressures(
        draws,
        seed,
        Percentiles.of(intact),
        Percentiles.of(depletion),
        List.copyOf(namedLeaks),
        List.copyOf(namedCeilings),
        none ? null : new Ceiling(Percentiles.of(ceiling), facts.barriers().get(governing).name()),
        List.copyOf(curve));
  }

  /** The highest P90 of the leaks where none stands above the intact well of its draw. */
  private static double leakHigh(double[][] leaks, double[] intact) {
    double highest = Double.NaN;
    for (double[] leak : leaks) {
      double[] then = new double[intact.length];
      for (int i = 0; i < then.length; i++) {
        then[i] = Math.min(intact[i], leak[i]);
      }
      double p90 = Percentiles.of(then).p90();
      highest = Double.isNaN(highest) ? p90 : Math.max(highest, p90);
    }
    return highest;
  }

  /** Material balance of a closed volume: what flowed out over what stores it. */
  private static double depletion(WellFacts facts, double perDay, Random random) {
    WellFacts.Flow flow = facts.flow();
    WellFacts.Reservoir reservoir = facts.reservoir();
    return flow == null || reservoir == null
        ? 0
        : perDay
            * flow.hours()
            / 24
            / (draw(reservoir.volume(), random) * draw(reservoir.compressibility(), random));
  }

  /** kPa per log10 cycle. */
  static double slopePerCycle(double m3PerDay, double viscosity, double thickness) {
    return RadialFlow.slopePerCycle(m3PerDay / 86_400, viscosity * 1e-3, thickness * 1e-12) / 1000;
  }

  private static double draw(Uncertain quantity, Random random) {
    return quantity.form() == Uncertain.Form.KNOWN
        ? quantity.likely()
        : quantity.quantile(Math.max(1e-9, random.nextDouble()));
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

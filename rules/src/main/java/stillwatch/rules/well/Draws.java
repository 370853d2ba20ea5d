package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** What the uncertain facts give, drawn again and again, kPa absolute at the wellhead. */
final class Draws {
  /** Hours since shut-in at which the expected build-up is told. */
  private static final double[] HOURS = {0.1, 0.2, 0.5, 1, 2, 3, 6, 12, 24, 48, 96};

  private final WellFacts facts;
  private final int draws;
  private final long seed;
  private final Random random;
  private final double[] intact;
  private final double[] depletion;
  private final double[] ceiling;
  private final double[][] leaks;
  private final double[][] ceilings;
  private final double[][] build;

  /** How often each barrier was the one that bears least. */
  private final int[] lowest;

  Draws(WellFacts facts, int draws, long seed) {
    this.facts = facts;
    this.draws = draws;
    this.seed = seed;
    random = new Random(seed);
    intact = new double[draws];
    depletion = new double[draws];
    ceiling = new double[draws];
    leaks = new double[facts.leaks().size()][draws];
    ceilings = new double[facts.barriers().size()][draws];
    build = new double[HOURS.length][draws];
    lowest = new int[facts.barriers().size()];
    for (int i = 0; i < draws; i++) {
      draw(i);
    }
  }

  private void draw(int i) {
    FluidColumn column = facts.column(this::draw);
    WellFacts.Flow flow = facts.flow();
    double out = flow == null ? 0 : draw(flow.rate()) * draw(flow.volumeFactor());
    depletion[i] = depletion(out);
    intact[i] =
        column.pressure(
            facts.wellheadDepth(),
            facts.datumDepth(),
            draw(facts.reservoirPressure()) - depletion[i]);
    leaks(i, column);
    ceilings(i, column);
    WellFacts.Rock rock = facts.rock();
    if (flow != null && rock != null) {
      buildUp(i, flow.hours(), out, rock);
    }
  }

  private void buildUp(int i, double flowed, double out, WellFacts.Rock rock) {
    double slope =
        ExpectedPressures.slopePerCycle(out, draw(rock.viscosity()), draw(rock.thickness()));
    for (int h = 0; h < HOURS.length; h++) {
      build[h][i] = intact[i] - slope * StrictMath.log10((flowed + HOURS[h]) / HOURS[h]);
    }
  }

  private double draw(Uncertain quantity) {
    return quantity.form() == Uncertain.Form.KNOWN
        ? quantity.likely()
        : quantity.quantile(Math.max(1e-9, random.nextDouble()));
  }

  /** Material balance of a closed volume: what flowed out over what stores it. */
  private double depletion(double perDay) {
    WellFacts.Flow flow = facts.flow();
    WellFacts.Reservoir reservoir = facts.reservoir();
    return flow == null || reservoir == null
        ? 0
        : perDay
            * flow.hours()
            / 24
            / (draw(reservoir.volume()) * draw(reservoir.compressibility()));
  }

  private void leaks(int i, FluidColumn column) {
    for (int k = 0; k < leaks.length; k++) {
      WellFacts.LeakPath leak = facts.leaks().get(k);
      double settles = column.pressure(facts.wellheadDepth(), leak.depth(), draw(leak.takes()));
      leaks[k][i] = Math.min(intact[i], settles);
    }
  }

  private void ceilings(int i, FluidColumn column) {
    int least = 0;
    for (int k = 0; k < ceilings.length; k++) {
      WellFacts.Barrier barrier = facts.barriers().get(k);
      Uncertain outside = barrier.outside();
      double bears =
          draw(barrier.rating())
              + (outside == null ? facts.sea().pressure(barrier.depth()) : draw(outside));
      ceilings[k][i] = column.pressure(facts.wellheadDepth(), barrier.depth(), bears);
      least = ceilings[k][i] < ceilings[least][i] ? k : least;
    }
    if (ceilings.length > 0) {
      lowest[least]++;
      ceiling[i] = ceilings[least][i] - facts.margin();
    }
  }

  /** What they lead one to expect. */
  ExpectedPressures expected() {
    return new ExpectedPressures(
        draws,
        seed,
        Percentiles.of(intact),
        Percentiles.of(depletion),
        ofLeaks(),
        ofBarriers(),
        ceilings.length == 0
            ? null
            : new ExpectedPressures.Ceiling(Percentiles.of(ceiling), governing()),
        byTime());
  }

  private List<ExpectedPressures.Named> ofLeaks() {
    List<ExpectedPressures.Named> all = new ArrayList<>();
    for (int k = 0; k < leaks.length; k++) {
      WellFacts.LeakPath leak = facts.leaks().get(k);
      all.add(new ExpectedPressures.Named(leak.name(), leak.depth(), Percentiles.of(leaks[k])));
    }
    return List.copyOf(all);
  }

  private List<ExpectedPressures.Named> ofBarriers() {
    List<ExpectedPressures.Named> all = new ArrayList<>();
    for (int k = 0; k < ceilings.length; k++) {
      WellFacts.Barrier barrier = facts.barriers().get(k);
      all.add(
          new ExpectedPressures.Named(
              barrier.name(), barrier.depth(), Percentiles.of(ceilings[k])));
    }
    return List.copyOf(all);
  }

  private List<ExpectedPressures.AtTime> byTime() {
    List<ExpectedPressures.AtTime> curve = new ArrayList<>();
    if (facts.flow() != null && facts.rock() != null) {
      for (int h = 0; h < HOURS.length; h++) {
        curve.add(
            new ExpectedPressures.AtTime(HOURS[h], Percentiles.of(build[h]), leakHigh(build[h])));
      }
    }
    return List.copyOf(curve);
  }

  /** The barrier that bore least the most often. */
  private String governing() {
    int governing = 0;
    for (int k = 1; k < lowest.length; k++) {
      governing = lowest[k] > lowest[governing] ? k : governing;
    }
    return facts.barriers().get(governing).name();
  }

  /** The highest P90 of the leaks where none stands above the intact well of its draw. */
  private double leakHigh(double[] then) {
    double highest = Double.NaN;
    for (double[] leak : leaks) {
      double[] bounded = new double[then.length];
      for (int i = 0; i < bounded.length; i++) {
        bounded[i] = Math.min(then[i], leak[i]);
      }
      double p90 = Percentiles.of(bounded).p90();
      highest = Double.isNaN(highest) ? p90 : Math.max(highest, p90);
    }
    return highest;
  }
}

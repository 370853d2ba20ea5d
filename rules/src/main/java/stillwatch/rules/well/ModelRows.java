package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.List;

/**
 * What a mean of the closing, or of the time after it, is made of in each model: the columns of the
 * fits and what is believed of each beforehand. In order: the level, the slope, the cooling, the
 * sea, the filling of the well, a leak where the model has one, and for each step before the last
 * its share and its friction.
 */
final class ModelRows {
  /** The dimensionless time at which a boundary is felt. */
  private static final double FELT = 0.1;

  private static final int COOLING = 2;
  private static final int SEA = COOLING + Cooling.COLUMNS;
  private static final int STORAGE = SEA + 1;

  /** The column of a leak, where a model has one. */
  static final int LEAK = STORAGE + 1;

  private final List<BuildUp.Observed> seen;
  private final Expectation expected;
  private final FlowHistory flow;
  private final int closing;
  private final double seaMean;
  private final double shutIn;
  private final double[] infinite;

  /**
   * Of a build-up.
   *
   * @param seen the means that are fitted to
   */
  ModelRows(BuildUp.Snapshot buildUp, Expectation expected, List<BuildUp.Observed> seen) {
    this.seen = seen;
    this.expected = expected;
    flow = buildUp.flow();
    closing = buildUp.closing();
    shutIn = flow.lastChangeHours();
    seaMean =
        seen.stream()
            .mapToDouble(BuildUp.Observed::sea)
            .filter(s -> !Double.isNaN(s))
            .average()
            .orElse(0);
    infinite = new double[seen.size()];
    for (int i = 0; i < infinite.length; i++) {
      infinite[i] = changes(seen.get(i).clock(), Model.NEVER);
    }
  }

  /** What is believed beforehand of a model without a leak. */
  List<LinearFit.Prior> priors(Estimate level, LinearFit.Prior slope) {
    List<LinearFit.Prior> priors = new ArrayList<>();
    priors.add(new LinearFit.Prior(level.value(), level.deviation()));
    priors.add(slope);
    priors.addAll(Cooling.priors(expected.cooling()));
    priors.add(Extrapolation.TIDE);
    priors.add(new LinearFit.Prior(0, Extrapolation.FILLING_HOURS * expected.slope().value()));
    for (int i = 1; i < closing; i++) {
      priors.add(
          new LinearFit.Prior(
              0, Extrapolation.SHARE_DEVIATION * expected.slope().value())); // of share i
      priors.add(new LinearFit.Prior(level.value() - 10_000, 1e5)); // friction after step i
    }
    return priors;
  }

  /** The rows of all means. */
  List<double[]> of(Model model) {
    List<double[]> rows = new ArrayList<>();
    for (int i = 0; i < seen.size(); i++) {
      BuildUp.Observed o = seen.get(i);
      double changes =
          Double.isInfinite(model.boundary()) ? infinite[i] : changes(o.clock(), model.boundary());
      double leak = model.leak() == null ? 0 : model.leak().drawdown(i, model.skin());
      rows.add(row(model, o.clock(), o.stage(), changes, o.sea(), leak));
    }
    return rows;
  }

  /** The row of a mean to come, the sea standing at its mean. */
  double[] ahead(Model model, double clock) {
    Leak leak = model.leak();
    double drawdown = leak == null ? 0 : leak.ahead(clock, model.skin());
    double changes = changes(clock, model.boundary());
    return row(model, clock, closing - 1, changes, Double.NaN, drawdown);
  }

  /**
   * Σ Δq·log10(t − tj) of the closing and the flow before it, with a boundary where there is one.
   */
  private double changes(double clock, double boundary) {
    return flow.superposed(
        clock,
        t ->
            StrictMath.log10(t)
                + (Double.isInfinite(boundary)
                    ? 0
                    : 2 / StrictMath.log(10) * BoundedReservoir.below(FELT * t / boundary)));
  }

  private double[] row(
      Model model, double clock, int stage, double changes, double sea, double leak) {
    boolean leaks = model.leak() != null;
    double[] row = new double[LEAK + (leaks ? 1 : 0) + 2 * (closing - 1)];
    boolean shut = stage == closing - 1;
    row[0] = shut ? 1 : 0;
    row[1] = -changes;
    Cooling.fill(row, COOLING, shut ? clock - shutIn : 0);
    row[SEA] = Double.isNaN(sea) ? 0 : sea - seaMean;
    row[STORAGE] = flow.growth(clock);
    if (leaks) {
      row[LEAK] = -leak;
    }
    int at = leaks ? LEAK + 1 : LEAK;
    double last = shut ? StrictMath.log10(clock - shutIn) : 0;
    int first = flow.steps().size() - closing;
    for (int i = 1; i < closing; i++) {
      double t = clock - flow.steps().get(first + i - 1).atHours();
      row[at + 2 * (i - 1)] = t > 0 ? -(StrictMath.log10(t) - last) : 0;
      row[at + 2 * (i - 1) + 1] = stage == i - 1 ? 1 : 0;
    }
    return row;
  }
}

package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.List;

/**
 * Where a build-up leads, with how sure that is once the cooling of the column, the tide and the
 * shares that the closure steps left, none of them known, are allowed for. Points on the line are
 * explained by
 *
 * <pre>p = p* + slope·X − cooling(t) + share·(sea − its mean) + f·dX/dt − Σ δj·log10((T − tj)/t)
 * </pre>
 *
 * with p* and the slope free, the cooling in the end between what the facts say ({@link Cooling}),
 * the share of the tide small, f what the filling of the well still lags by, and each δ what the
 * share left by step j may be wrong by. Residuals that follow one another count for fewer.
 */
public final class Extrapolation {
  static final LinearFit.Prior TIDE = new LinearFit.Prior(0.1, 0.2);

  /** A share of the flow that a closure step leaves is known to about this. */
  public static final double SHARE_DEVIATION = 0.01;

  /** The filling of a well lags by up to about so many hours. */
  static final double FILLING_HOURS = 0.02;

  /** Nothing is measured better than this, kPa: wander that no reading shows. */
  private static final double LEAST_SPREAD = 0.05;

  private static final int COOLING = 2;
  private static final int SEA = COOLING + Cooling.COLUMNS;
  private static final int STORAGE = SEA + 1;
  private static final int FIXED = STORAGE + 1;

  private final FlowHistory flow;
  private final LinearFit fit;
  private final double seaMean;
  private final double spread;

  /**
   * A point of a build-up with the sea's pressure beside it, NaN where nobody tells it.
   *
   * @param point the point
   * @param sea kPa
   */
  public record Seen(BuildUpPoint point, double sea) {}

  /**
   * Fits the points of a line.
   *
   * @param seen five or more, in order of time
   * @param flow shut in at its end
   * @param cooling how much the cooling may lower the pressure in the end, kPa
   */
  public Extrapolation(List<Seen> seen, FlowHistory flow, Uncertain cooling) {
    this.flow = flow;
    seaMean =
        seen.stream().mapToDouble(Seen::sea).filter(s -> !Double.isNaN(s)).average().orElse(0);
    SemilogLine line = SemilogLine.through(seen.stream().map(Seen::point).toList());
    List<LinearFit.Prior> priors = new ArrayList<>();
    priors.add(new LinearFit.Prior(line.extrapolated(), 1e4));
    priors.add(new LinearFit.Prior(line.slope(), 1e4));
    priors.addAll(Cooling.priors(cooling));
    priors.add(TIDE);
    double perRate = Math.abs(line.slope()) / flow.lastRate();
    priors.add(new LinearFit.Prior(0, Math.max(0.01, FILLING_HOURS * perRate)));
    for (int i = 1; i < flow.steps().size() - 1; i++) {
      double full = flow.steps().get(0).rate();
      priors.add(new LinearFit.Prior(0, Math.max(0.01, SHARE_DEVIATION * full * perRate)));
    }
    List<double[]> rows = seen.stream().map(s -> row(s.point(), s.sea())).toList();
    double[] values = seen.stream().mapToDouble(s -> s.point().pressure()).toArray();
    double independent = independent(seen, line);
    double noise = Math.max(LEAST_SPREAD, line.spread());
    LinearFit first = new LinearFit(rows, values, priors, independent / (noise * noise));
    double left = Math.sqrt(first.restSquares() / Math.max(1, values.length - 4));
    spread = Math.max(LEAST_SPREAD, left);
    fit = new LinearFit(rows, values, priors, independent / (spread * spread));
  }

  /** The share of the points that count when residuals follow one another. */
  private static double independent(List<Seen> seen, SemilogLine line) {
    double together = 0;
    double alone = 0;
    double before = Double.NaN;
    for (Seen s : seen) {
      double r = s.point().pressure() - line.at(s.point().abscissa());
      together += Double.isNaN(before) ? 0 : r * before;
      alone += r * r;
      before = r;
    }
    double follows = alone > 0 ? Math.max(0, Math.min(0.9, together / alone)) : 0;
    return (1 - follows) / (1 + follows);
  }

  private double[] row(BuildUpPoint p, double sea) {
    List<FlowHistory.Step> steps = flow.steps();
    double[] row = new double[FIXED + Math.max(0, steps.size() - 2)];
    row[0] = 1;
    row[1] = p.abscissa();
    Cooling.fill(row, COOLING, p.hours());
    row[SEA] = Double.isNaN(sea) ? 0 : sea - seaMean;
    double shutIn = flow.lastChangeHours();
    row[STORAGE] = flow.growth(shutIn + p.hours());
    for (int i = 1; i < steps.size() - 1; i++) {
      double sinceStep = shutIn + p.hours() - steps.get(i).atHours();
      row[FIXED + i - 1] = -StrictMath.log10(sinceStep / p.hours());
    }
    return row;
  }

  /** Where the build-up would end with the column as warm as at the shut-in. */
  public Estimate extrapolated() {
    return fit.coefficient(0);
  }

  /** The slope per cycle; negative while the pressure builds. */
  public Estimate slope() {
    return fit.coefficient(1);
  }

  /** What a mean of readings at this point is expected to be. */
  public Estimate at(BuildUpPoint p, double sea) {
    Estimate e = fit.of(row(p, sea));
    return new Estimate(e.value(), StrictMath.hypot(e.deviation(), spread));
  }
}

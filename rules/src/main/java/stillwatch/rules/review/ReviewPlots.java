package stillwatch.rules.review;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import stillwatch.ingest.unit.Conversion;
import stillwatch.rules.plan.Pressures;
import stillwatch.rules.watch.BuildUpReview;
import stillwatch.rules.well.BuildUpPoint;
import stillwatch.rules.well.FlowHistory;
import stillwatch.rules.well.LogDerivative;
import stillwatch.rules.well.SemilogLine;

/** The points of a build-up's plots: against superposition time, and its derivative. */
final class ReviewPlots {
  /** Neighbours of the derivative are at least so far away on the natural logarithm of time. */
  private static final double DISTANCE = 0.2;

  private static final double LN10 = Math.log(10);

  private final Pressures unit;
  private final Conversion conversion;

  ReviewPlots(Pressures unit) {
    this.unit = unit;
    conversion = unit.conversion();
  }

  /**
   * Writes {@code points}, each with superposition time in cycles at the full rate, pressure, hours
   * since the shut-in and derivative (null where it is not above nothing), and the {@code line}
   * where there is one.
   */
  void fill(ObjectNode into, BuildUpReview reviewed) {
    into.put("unit", unit.sign());
    FlowHistory flow = reviewed.buildUp().flow();
    double scale = flow.lastRate() / flow.steps().get(0).rate(); // cycles at the full rate
    List<BuildUpPoint> points = reviewed.buildUp().points();
    int n = points.size();
    double[] x = new double[n];
    double[] p = new double[n];
    for (int i = 0; i < n; i++) {
      x[i] = -LN10 * scale * points.get(i).abscissa();
      p[i] = points.get(i).pressure();
    }
    double[] derivative = LogDerivative.of(x, p, DISTANCE);
    ArrayNode all = into.putArray("points");
    for (int i = 0; i < n; i++) {
      BuildUpPoint q = points.get(i);
      ArrayNode row = all.addArray();
      row.add((float) (scale * q.abscissa()))
          .add(conversion.fromBase(q.pressure()))
          .add((float) q.hours());
      if (derivative[i] > 0) {
        row.add((float) (derivative[i] / conversion.factor()));
      } else {
        row.addNull();
      }
    }
    SemilogLine line = reviewed.review().line();
    if (line != null) {
      into.putObject("line")
          .put("from_hours", line.fromHours())
          .put("at_zero", conversion.fromBase(line.extrapolated()))
          .put("slope", line.slope() / scale / conversion.factor())
          .put("level", Math.abs(line.slope()) / scale / LN10 / conversion.factor());
    }
  }
}

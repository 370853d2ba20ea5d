package stillwatch.station;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Conversion;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.Pressures;
import stillwatch.rules.review.ReviewWords;
import stillwatch.rules.watch.Reviewed;
import stillwatch.rules.well.BuildUp;
import stillwatch.rules.well.BuildUpPoint;
import stillwatch.rules.well.Diagnosis;
import stillwatch.rules.well.Explanation;
import stillwatch.rules.well.FlowHistory;
import stillwatch.rules.well.LogDerivative;
import stillwatch.rules.well.SemilogLine;

/** What the page of a replay shows of the build-up: its plots and its explanations. */
final class ReviewsJson {
  /** Neighbours of the derivative are at least so far away on the natural logarithm of time. */
  private static final double DISTANCE = 0.2;

  private static final double LN10 = Math.log(10);

  private final Pressures unit;
  private final ReviewWords words;
  private final Conversion conversion;

  ReviewsJson(Plan plan) {
    unit = Pressures.of(plan);
    words = new ReviewWords(plan);
    conversion = unit.conversion();
  }

  void fill(ObjectNode into, Reviewed newest, List<Reviews.At> compared) {
    into.put("unit", unit.sign());
    words.leads(into, newest);
    BuildUp.Review review = newest.review();
    FlowHistory flow = newest.buildUp().flow();
    double scale = flow.lastRate() / flow.steps().get(0).rate(); // cycles at the full rate
    points(into, newest.buildUp().points(), review.line(), scale);
    ArrayNode weights = into.putArray("weights");
    for (Reviews.At at : compared) {
      ObjectNode n = weights.addObject().put("at", at.atMs());
      ArrayNode each = n.putArray("weight");
      for (Explanation x : Explanation.values()) {
        each.add(weight(at.diagnosis(), x));
      }
    }
    ArrayNode names = into.putArray("names");
    for (Explanation x : Explanation.values()) {
      names.add(x.words());
    }
    if (!compared.isEmpty()) {
      Reviews.At last = compared.get(compared.size() - 1);
      words.explained(into, last.diagnosis(), newest.shutInMs());
    }
  }

  private static double weight(Diagnosis d, Explanation x) {
    return d.candidates().stream()
        .filter(c -> c.explanation() == x)
        .mapToDouble(Diagnosis.Candidate::weight)
        .sum();
  }

  private void points(
      ObjectNode into, List<BuildUpPoint> points, @Nullable SemilogLine line, double scale) {
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
    if (line != null) {
      into.putObject("line")
          .put("from_hours", line.fromHours())
          .put("at_zero", conversion.fromBase(line.extrapolated()))
          .put("slope", line.slope() / scale / conversion.factor())
          .put("level", Math.abs(line.slope()) / scale / LN10 / conversion.factor());
    }
  }
}

package stillwatch.station;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Conversion;
import stillwatch.rules.finding.UtcText;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.watch.Reviewed;
import stillwatch.rules.well.BuildUp;
import stillwatch.rules.well.BuildUpPoint;
import stillwatch.rules.well.Diagnosis;
import stillwatch.rules.well.Estimate;
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
  private final Conversion conversion;

  ReviewsJson(Plan plan) {
    unit = Pressures.of(plan);
    conversion = unit.conversion();
  }

  void fill(ObjectNode into, Reviewed newest, List<Reviews.At> compared) {
    into.put("unit", unit.sign()).put("gauge", newest.gauge());
    BuildUp.Review review = newest.review();
    into.put("text", text(review, newest.gauge()));
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
      into.put("verdict", verdict(last.diagnosis(), newest.shutInMs()));
      candidates(into.putArray("candidates"), last.diagnosis());
      long from = newest.shutInMs() + Math.round(last.diagnosis().hours() * 3_600_000);
      ArrayNode ahead = into.putArray("ahead");
      Diagnosis.AHEAD.forEach(h -> ahead.add(from + Math.round(h * 3_600_000)));
    }
  }

  private static double weight(Diagnosis d, Explanation x) {
    return d.candidates().stream()
        .filter(c -> c.explanation() == x)
        .mapToDouble(Diagnosis.Candidate::weight)
        .sum();
  }

  private String text(BuildUp.Review r, String gauge) {
    Estimate to = r.extrapolated();
    Estimate slope = r.slope();
    SemilogLine line = r.line();
    String hours =
        String.format(Locale.ROOT, "%.1f h after the shut-in, by %s: ", r.hours(), gauge);
    if (to == null || slope == null || line == null) {
      return hours + "no line is drawn. " + r.refusal();
    }
    return hours
        + String.format(
            Locale.ROOT,
            "straight since %.2f h; it leads to %s %s (90 %%: %s to %s) with the column as warm as at the shut-in; slope %s a cycle at the full rate, give or take %s.",
            line.fromHours(),
            unit.plain(to.value()),
            unit.sign(),
            unit.plain(to.low()),
            unit.plain(to.high()),
            unit.difference(slope.value()),
            unit.difference(1.6449 * slope.deviation()));
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

  /** What can be said and what not; never one reassuring number. */
  private static String verdict(Diagnosis d, long shutInMs) {
    Explanation sound = first(d, false);
    Explanation leaking = first(d, true);
    String which =
        switch (d.verdict()) {
          case LEAKING ->
              "By the pressure alone every sound explanation is far behind: fluid leaves the well, or something happens that no explanation here knows.";
          case SOUND ->
              "By the pressure alone every leaking explanation is far behind; a leak too small to show in the pressure is not excluded.";
          case CANNOT_TELL ->
              "By the pressure alone it cannot yet be told whether fluid leaves the well: "
                  + sound.words()
                  + ", and "
                  + leaking.words()
                  + ", both fit. "
                  + apart(d, shutInMs);
        };
    return which + " Look at sound, seafloor and the facts beside it.";
  }

  private static String apart(Diagnosis d, long shutInMs) {
    if (Double.isInfinite(d.apartHours())) {
      return "They would look alike for a week and longer.";
    }
    long atMs = shutInMs + Math.round((d.hours() + d.apartHours()) * 3_600_000);
    return "They would be told apart by about "
        + UtcText.of(atMs)
        + " if the likelier leak is as large as it now seems.";
  }

  private static Explanation first(Diagnosis d, boolean leak) {
    return d.candidates().stream()
        .map(Diagnosis.Candidate::explanation)
        .filter(x -> x.leak() == leak)
        .findFirst()
        .orElseThrow();
  }

  private void candidates(ArrayNode into, Diagnosis d) {
    for (Diagnosis.Candidate c : d.candidates()) {
      ObjectNode n =
          into.addObject().put("name", c.explanation().words()).put("weight", c.weight());
      Estimate share = c.leakShare();
      n.put(
          "leak",
          c.explanation().leak()
              ? String.format(
                  Locale.ROOT,
                  "%.1f %% (90 %%: %.1f to %.1f %%)",
                  100 * Math.max(0, share.value()),
                  100 * Math.max(0, share.low()),
                  100 * Math.max(0, share.high()))
              : "nothing");
      ArrayNode ahead = n.putArray("ahead");
      for (Estimate e : c.ahead()) {
        ahead.add(
            Double.isFinite(e.value())
                ? unit.fine(e.value()) + " ± " + unit.difference(1.6449 * e.deviation())
                : "unknown");
      }
    }
  }
}

package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The build-up of one gauge since the shut-in, and what can be read from it at any moment at a cost
 * that does not grow with its length. Not thread-safe.
 */
public final class BuildUp {
  /** A bend is looked for in the newest part of the time since shut-in. */
  private static final double NEWEST = 0.1;

  /** And in this much at least, hours: a bend that matters lasts. */
  private static final double LEAST_NEWEST = 0.5;

  private final FlowHistory flow;
  private final Uncertain cooling;
  private final LogTimeMeans means = new LogTimeMeans();

  /**
   * A build-up that has seen nothing.
   *
   * @param flow the well's history, shut in at its end
   * @param cooling how much the cooling of the column may lower the pressure in the end, kPa
   */
  public BuildUp(FlowHistory flow, Uncertain cooling) {
    this.flow = flow;
    this.cooling = cooling;
  }

  /**
   * What a build-up says now.
   *
   * @param hours since the shut-in
   * @param line the straight line; null when there is none
   * @param refusal why not
   * @param extrapolated where it leads; null without a line
   * @param slope per cycle at the full rate, without sign; null without a line
   * @param bend how far the newest readings stand off what the older ones foretold, kPa; null when
   *     that cannot be said
   */
  public record Review(
      double hours,
      @Nullable SemilogLine line,
      String refusal,
      Extrapolation.@Nullable Estimate extrapolated,
      Extrapolation.@Nullable Estimate slope,
      Extrapolation.@Nullable Estimate bend) {}

  /**
   * Takes a level.
   *
   * @param hours since the shut-in
   * @param level kPa
   * @param sea the sea's pressure, NaN where nobody tells it
   */
  public void accept(double hours, double level, double sea) {
    means.accept(hours, level, sea);
  }

  /** The points so far with superposition time, oldest first. */
  public List<BuildUpPoint> points() {
    return seen().stream().map(Extrapolation.Seen::point).toList();
  }

  private List<Extrapolation.Seen> seen() {
    List<Extrapolation.Seen> seen = new ArrayList<>();
    for (LogTimeMeans.Mean m : means.means()) {
      double x = flow.superposition(flow.lastChangeHours() + m.hours());
      seen.add(new Extrapolation.Seen(new BuildUpPoint(m.hours(), m.pressure(), x), m.beside()));
    }
    return seen;
  }

  /** What it says now. */
  public Review review() {
    List<Extrapolation.Seen> seen = seen();
    double hours = seen.isEmpty() ? 0 : seen.get(seen.size() - 1).point().hours();
    LineChoice choice = LineChoice.of(seen.stream().map(Extrapolation.Seen::point).toList());
    SemilogLine line = choice.line();
    if (line == null) {
      return new Review(hours, null, choice.refusal(), null, null, bend(seen, hours));
    }
    Extrapolation fit = new Extrapolation(from(seen, line.fromHours()), cooling);
    Extrapolation.Estimate slope = fit.slope();
    double toFullRate = flow.steps().get(0).rate() / flow.lastRate();
    return new Review(
        hours,
        line,
        "",
        fit.extrapolated(),
        new Extrapolation.Estimate(-slope.value() * toFullRate, slope.deviation() * toFullRate),
        bend(seen, hours));
  }

  private static List<Extrapolation.Seen> from(List<Extrapolation.Seen> seen, double hours) {
    return seen.stream().filter(s -> s.point().hours() >= hours).toList();
  }

  private Extrapolation.@Nullable Estimate bend(List<Extrapolation.Seen> seen, double hours) {
    double newFrom = hours - Math.max(LEAST_NEWEST, NEWEST * hours);
    List<Extrapolation.Seen> older =
        seen.stream().filter(s -> s.point().hours() < newFrom).toList();
    SemilogLine line = LineChoice.of(older.stream().map(Extrapolation.Seen::point).toList()).line();
    List<Extrapolation.Seen> newest = from(seen, newFrom);
    if (line == null || newest.isEmpty()) {
      return null;
    }
    Extrapolation fit = new Extrapolation(from(older, line.fromHours()), cooling);
    Extrapolation.Seen last = newest.get(newest.size() - 1);
    Extrapolation.Estimate foretold = fit.at(last.point(), last.sea());
    return new Extrapolation.Estimate(
        last.point().pressure() - foretold.value(), foretold.deviation());
  }
}

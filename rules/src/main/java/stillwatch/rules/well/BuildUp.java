package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The build-up of one gauge through the closing and after the shut-in, and what can be read from it
 * at any moment at a cost that does not grow with its length. Times are hours on the clock of the
 * flow history. Not thread-safe.
 */
public final class BuildUp {
  /** A bend is looked for in the newest part of the time since shut-in. */
  private static final double NEWEST = 0.1;

  /** And in this much at least, hours: a bend that matters lasts. */
  private static final double LEAST_NEWEST = 0.5;

  private final Uncertain cooling;
  private final double flowing;
  private final List<LogTimeMeans> stages = new ArrayList<>();
  private FlowHistory flow;

  /**
   * A build-up that has seen nothing.
   *
   * @param flow the well's history up to the first step of the closing, which is its last change
   * @param flowing the pressure just before that step, kPa
   * @param cooling how much the cooling of the column may lower the pressure in the end, kPa
   */
  public BuildUp(FlowHistory flow, double flowing, Uncertain cooling) {
    this.flow = flow;
    this.flowing = flowing;
    this.cooling = cooling;
    stages.add(new LogTimeMeans());
  }

  /**
   * What a build-up says now.
   *
   * @param hours since the shut-in
   * @param line the straight line; null when there is none
   * @param refusal why not
   * @param extrapolated where it leads; null without a line
   * @param slope per cycle at the full rate, without sign; null without a line
   * @param bend how far the last readings are off what the older ones forecast, kPa; null when that
   *     cannot be said
   */
  public record Review(
      double hours,
      @Nullable SemilogLine line,
      String refusal,
      @Nullable Estimate extrapolated,
      @Nullable Estimate slope,
      @Nullable Estimate bend) {}

  /**
   * A mean of readings.
   *
   * @param stage how many steps of the closing had been made, from 0 after the first
   * @param clock when, hours on the flow history's clock
   * @param sinceStep hours since the last step
   * @param pressure kPa
   * @param sea kPa, NaN where nobody tells it
   */
  public record Observed(int stage, double clock, double sinceStep, double pressure, double sea) {}

  /**
   * A build-up as it stood at a moment, for whoever wants to think it over.
   *
   * @param flow the history
   * @param flowing the pressure just before the closing began, kPa
   * @param closing how many steps the closing has had
   * @param observed all means through the closing and after it, oldest first
   */
  public record Snapshot(FlowHistory flow, double flowing, int closing, List<Observed> observed) {
    /** Those since the last step, with superposition time. */
    public List<BuildUpPoint> points() {
      int last = closing - 1;
      return observed.stream()
          .filter(o -> o.stage() == last)
          .map(o -> new BuildUpPoint(o.sinceStep(), o.pressure(), flow.superposition(o.clock())))
          .toList();
    }
  }

  /** As it stands now. */
  public Snapshot snapshot() {
    return new Snapshot(flow, flowing, stages.size(), List.copyOf(observed()));
  }

  /**
   * The closing goes on: the same history, with one more change at its end, or with another rate
   * from its last change on.
   */
  public void step(FlowHistory longer) {
    if (longer.steps().size() > flow.steps().size()) {
      stages.add(new LogTimeMeans());
    }
    flow = longer;
  }

  /**
   * Takes a level.
   *
   * @param clock when, hours
   * @param level kPa
   * @param sea the sea's pressure, NaN where nobody tells it
   */
  public void accept(double clock, double level, double sea) {
    stages.get(stages.size() - 1).accept(clock - flow.lastChangeHours(), level, sea);
  }

  private List<Observed> observed() {
    List<Observed> all = new ArrayList<>();
    List<FlowHistory.Step> steps = flow.steps();
    for (int i = 0; i < stages.size(); i++) {
      double began = steps.get(steps.size() - stages.size() + i).atHours();
      for (LogTimeMeans.Mean m : stages.get(i).means()) {
        all.add(new Observed(i, began + m.hours(), m.hours(), m.pressure(), m.beside()));
      }
    }
    return all;
  }

  private List<Extrapolation.Seen> seen() {
    List<Extrapolation.Seen> seen = new ArrayList<>();
    for (LogTimeMeans.Mean m : stages.get(stages.size() - 1).means()) {
      double x = flow.superposition(flow.lastChangeHours() + m.hours());
      seen.add(new Extrapolation.Seen(new BuildUpPoint(m.hours(), m.pressure(), x), m.beside()));
    }
    return seen;
  }

  /** What it says now; of meaning once the well is shut in. */
  public Review review() {
    List<Extrapolation.Seen> seen = seen();
    double hours = seen.isEmpty() ? 0 : seen.get(seen.size() - 1).point().hours();
    LineChoice choice = LineChoice.of(seen.stream().map(Extrapolation.Seen::point).toList());
    SemilogLine line = choice.line();
    if (line == null) {
      return new Review(hours, null, choice.refusal(), null, null, bend(seen, hours));
    }
    Extrapolation fit = new Extrapolation(from(seen, line.fromHours()), flow, cooling);
    Estimate slope = fit.slope();
    double toFullRate = flow.steps().get(0).rate() / flow.lastRate();
    return new Review(
        hours,
        line,
        "",
        fit.extrapolated(),
        new Estimate(-slope.value() * toFullRate, slope.deviation() * toFullRate),
        bend(seen, hours));
  }

  private static List<Extrapolation.Seen> from(List<Extrapolation.Seen> seen, double hours) {
    return seen.stream().filter(s -> s.point().hours() >= hours).toList();
  }

  private @Nullable Estimate bend(List<Extrapolation.Seen> seen, double hours) {
    double newFrom = hours - Math.max(LEAST_NEWEST, NEWEST * hours);
    List<Extrapolation.Seen> older =
        seen.stream().filter(s -> s.point().hours() < newFrom).toList();
    SemilogLine line = LineChoice.of(older.stream().map(Extrapolation.Seen::point).toList()).line();
    List<Extrapolation.Seen> newest = from(seen, newFrom);
    if (line == null || newest.isEmpty()) {
      return null;
    }
    Extrapolation fit = new Extrapolation(from(older, line.fromHours()), flow, cooling);
    Extrapolation.Seen last = newest.get(newest.size() - 1);
    Estimate forecast = fit.at(last.point(), last.sea());
    return new Estimate(last.point().pressure() - forecast.value(), forecast.deviation());
  }
}

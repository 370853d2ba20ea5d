package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.indicator.BuildUpIndicator;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.well.BuildUp;
import stillwatch.rules.well.Estimate;
import stillwatch.rules.well.FlowHistory;
import stillwatch.rules.well.SemilogLine;
import stillwatch.rules.well.WellFacts;

/**
 * The build-up of every shut-in pressure gauge, read again every ten minutes of log time. Not
 * thread-safe.
 */
final class BuildUps {
  /** How often the build-up is read. */
  static final long EVERY_MS = 600_000;

  private static final BuildUp.Review OPENED =
      new BuildUp.Review(Double.NaN, null, "The well is not shut in.", null, null, null);

  private final Plan plan;
  private final WellWatch.Tap tap;
  private final TestProgress progress;
  private HydrophoneHistory hydrophones;
  private final Map<WatchedGauge, BuildUp> byGauge = new LinkedHashMap<>();
  private List<BuildUpIndicator> newest = List.of();

  /** The history whose last step was taken; null while the well is open. */
  private @Nullable FlowHistory stages;

  private long slot = Long.MIN_VALUE;
  private boolean seaKnown;

  /** The group that speaks for the well to whoever looks: the first that could. */
  private String speaking = "";

  BuildUps(Plan plan, TestProgress progress, WellWatch.Tap tap) {
    this.plan = plan;
    this.tap = tap;
    this.progress = progress;
    hydrophones = hydrophones();
  }

  private HydrophoneHistory hydrophones() {
    WellFacts facts = plan.facts();
    return new HydrophoneHistory(facts == null ? List.of() : facts.hydrophones());
  }

  /**
   * Something was done: each step of the closing is a stage of the build-up, an opening its end.
   */
  @SuppressWarnings("ReferenceEquality") // every step makes a new history
  void stepped(Gauges gauges) {
    WellFacts facts = plan.facts();
    FlowHistory flow = progress.flow();
    if (facts == null || flow == stages) {
      return;
    }
    stages = flow;
    hydrophones = hydrophones();
    if (flow == null) {
      byGauge.clear();
    } else if (byGauge.isEmpty()) {
      for (WatchedGauge g : gauges.all()) {
        if (g.plan.ofShutIn()) {
          byGauge.put(g, new BuildUp(flow, g.track.level(), facts.cooling()));
        }
      }
    } else {
      byGauge.values().forEach(b -> b.step(flow));
    }
  }

  /**
   * What the facts expect the cooling to take off now, kPa an hour; null where they say nothing.
   */
  @Nullable Estimate cooling(long atMs) {
    WellFacts facts = plan.facts();
    double hours = progress.hoursShutIn(atMs);
    return facts == null || Double.isNaN(hours) ? null : facts.coolingRate(Math.max(0, hours));
  }

  /** The deciders meet: the build-up is read again with the next indicators. */
  void readAnew() {
    slot = Long.MIN_VALUE;
  }

  /** Takes what the gauges now say, and reads the build-up again when it is time. */
  void look(Gauges gauges, Moment moment) {
    long nowMs = moment.nowMs();
    FlowHistory flow = progress.flow();
    if (flow == null) {
      newest =
          newest.stream().map(b -> indicator(b.twin(), b.gauge(), nowMs, OPENED, nowMs)).toList();
      return;
    }
    if (flow.shutIn() && moment.nobodyNear()) {
      hydrophones.look(gauges, progress.flowClock(nowMs), nowMs);
    }
    seaKnown |= !Double.isNaN(moment.ambient());
    boolean gap = seaKnown && Double.isNaN(moment.ambient()); // its correction is not switched off
    byGauge.forEach(
        (g, buildUp) -> {
          if (g.trusted() && g.fresh(nowMs) && !gap) {
            buildUp.accept(
                progress.flowClock(g.track.lastAtMs()), g.track.level(), moment.ambient());
          }
        });
    long now = Math.floorDiv(nowMs, EVERY_MS);
    if (now != slot && !Double.isNaN(progress.hoursShutIn(nowMs))) {
      slot = now;
      newest = review(gauges, nowMs);
    }
  }

  private List<BuildUpIndicator> review(Gauges gauges, long nowMs) {
    List<BuildUpIndicator> all = new ArrayList<>();
    for (WatchedTwins group : gauges.twins()) {
      BuildUpIndicator best = null;
      for (WatchedGauge g : group.members) {
        BuildUp buildUp = byGauge.get(g);
        if (buildUp != null && g.trusted() && g.fresh(nowMs)) {
          BuildUp.Review review = buildUp.review();
          BuildUpIndicator one =
              indicator(group.name, g.plan.id(), g.track.lastAtMs(), review, nowMs);
          if (best == null) {
            tell(group, g, buildUp, review, nowMs);
          }
          best = best == null ? one : better(best, one);
        }
      }
      if (best != null) {
        all.add(best);
      }
    }
    return List.copyOf(all);
  }

  private void tell(
      WatchedTwins group, WatchedGauge g, BuildUp buildUp, BuildUp.Review review, long nowMs) {
    speaking = speaking.isEmpty() ? group.name : speaking;
    if (speaking.equals(group.name)) {
      tap.reviewed(
          new BuildUpReview(
              g.plan.id(),
              nowMs,
              progress.shutInMs(),
              buildUp.snapshot(),
              review,
              hydrophones.heard()));
    }
  }

  /** Both gauges must show a shortfall: the one counts that shows less of it. */
  private static BuildUpIndicator better(BuildUpIndicator a, BuildUpIndicator b) {
    boolean lessBent = !(b.bend() <= a.bend()) && !Double.isNaN(b.bend());
    boolean higher = b.extrapolatedHigh() > a.extrapolatedHigh();
    return lessBent || (Double.isNaN(b.bend()) && higher) ? b : a;
  }

  private BuildUpIndicator indicator(
      String group, String gauge, long reviewedMs, BuildUp.Review r, long nowMs) {
    SemilogLine line = r.line();
    return new BuildUpIndicator(
        plan.well(),
        group,
        gauge,
        nowMs,
        reviewedMs,
        r.hours() * 3600,
        line == null ? Double.NaN : line.fromHours() * 3600,
        value(r.slope()),
        deviation(r.slope()),
        value(r.extrapolated()),
        r.extrapolated() == null ? Double.NaN : r.extrapolated().low(),
        r.extrapolated() == null ? Double.NaN : r.extrapolated().high(),
        value(r.bend()),
        seaKnown
            ? deviation(r.bend())
            : StrictMath.hypot(deviation(r.bend()), plan.surroundings().tideKPa()),
        plan.bands().intactLowKPa(),
        r.refusal());
  }

  private static double value(@Nullable Estimate e) {
    return e == null ? Double.NaN : e.value();
  }

  private static double deviation(@Nullable Estimate e) {
    return e == null ? Double.NaN : e.deviation();
  }

  /** What the newest reading of the build-up says, of each group; empty before there is one. */
  List<BuildUpIndicator> newest() {
    return newest;
  }
}

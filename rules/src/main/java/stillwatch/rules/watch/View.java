package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import stillwatch.rules.indicator.EvidenceIndicator;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.GaugesIndicator;
import stillwatch.rules.indicator.Near;
import stillwatch.rules.indicator.PairIndicator;
import stillwatch.rules.indicator.TwinsIndicator;
import stillwatch.rules.indicator.WellIndicator;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.well.Estimate;

/** Makes the indicators of one moment of everything that is known. Not thread-safe. */
final class View {
  private static final Estimate NO_COOLING = new Estimate(0, 0);

  private final Plan plan;
  private final Gauges gauges;
  private final TestProgress progress;
  private final Effects effects;
  private final BuildUps buildUps;
  private final EvidenceBoard evidence;
  private final ChangeBoard changes;
  private final ReadingJudge readings;
  private final double feedPeriodS;

  View(
      Plan plan,
      Gauges gauges,
      TestProgress progress,
      Effects effects,
      BuildUps buildUps,
      EvidenceBoard evidence,
      ChangeBoard changes,
      ReadingJudge readings) {
    this.plan = plan;
    this.gauges = gauges;
    this.progress = progress;
    this.effects = effects;
    this.buildUps = buildUps;
    this.evidence = evidence;
    this.changes = changes;
    this.readings = readings;
    feedPeriodS =
        plan.gauges().stream().mapToLong(g -> g.period().toMillis()).min().orElse(1000) / 1000.0;
  }

  Moment moment(long nowMs) {
    WatchedGauge sea = gauges.ambient(nowMs);
    Estimate cooling = buildUps.cooling(nowMs);
    return new Moment(
        plan.well(),
        nowMs,
        plan.bands().after(progress.hoursShutIn(nowMs)),
        sea == null ? Double.NaN : sea.track.level(),
        cooling == null ? NO_COOLING : cooling,
        (sea == null
                ? "Tide allowed for, not taken out: no ambient gauge can be trusted."
                : "Tide taken out by " + sea.plan.id() + ".")
            + (cooling == null
                ? " Cooling not taken out: the facts do not tell it."
                : " Expected cooling taken out."),
        effects.presence(nowMs, gauges).isEmpty(),
        progress.holdPointS(nowMs));
  }

  GaugesIndicator gauges(Moment moment, boolean onCadence) {
    long nowMs = moment.nowMs();
    if (onCadence) {
      Steps.note(nowMs, effects);
    }
    for (WatchedGauge g : gauges.shutIn()) {
      double sea = sea(moment);
      g.belowSea = g.track.acceptedCount() > 0 && g.track.lowest() < sea;
      if (onCadence) {
        g.compare(nowMs);
        g.unit = UnitGuess.of(g, gauges.shutIn(), nowMs);
      }
    }
    List<GaugeIndicator> said = new ArrayList<>(gauges.all().size());
    for (WatchedGauge gauge : gauges.all()) {
      said.add(gauge.indicator(moment, gauges.groupOf(gauge).calmBeside(gauge)));
    }
    List<PairIndicator> pairs = new ArrayList<>();
    if (onCadence) {
      for (WatchedPair pair : gauges.pairs()) {
        if (pair.update(nowMs)) {
          pairs.add(pair.indicator(plan.well(), nowMs));
        }
      }
    }
    return new GaugesIndicator(plan.well(), nowMs, said, pairs);
  }

  /** The sea's own pressure at the well, kPa; NaN where nothing tells it. */
  private double sea(Moment moment) {
    return Double.isNaN(moment.ambient()) && plan.facts() != null
        ? plan.facts().seaAtWellhead()
        : moment.ambient();
  }

  /** The senses that speak for a leak now. */
  List<EvidenceIndicator> speaking(long nowMs) {
    return evidence.now(nowMs, changes.pressureSinceMs());
  }

  WellIndicator well(Moment moment) {
    long nowMs = moment.nowMs();
    long atMs = readings.lastAtMs();
    Near near = effects.near(atMs, nowMs, gauges);
    List<TwinsIndicator> twins = new ArrayList<>();
    for (WatchedTwins group : gauges.twins()) {
      twins.add(group.indicator(moment, near, lowFromMs(group)));
    }
    List<EvidenceIndicator> speaking = speaking(nowMs);
    return new WellIndicator(
        plan.well(),
        nowMs,
        (nowMs - readings.lastFrameMs()) / 1000.0,
        readings.lastFrameMs(),
        feedPeriodS,
        readings.clock(nowMs),
        moment.holdPointS(),
        progress.holdPointMs(),
        speaking,
        EvidenceBoard.order(speaking, nowMs),
        twins,
        Solos.of(moment, gauges.shutIn(), near, speaking),
        changes.rows(nowMs),
        changes.refused(nowMs),
        Steps.of(plan.well(), gauges.shutInGroup(), nowMs, effects),
        readings.told(plan.well(), nowMs),
        buildUps.newest(),
        progress.indicator(nowMs),
        progress.passes(plan.well(), nowMs),
        Departures.of(progress.cycles(), plan.well(), nowMs),
        Seabed.of(progress.surveys().compared(), plan.well(), nowMs),
        progress.collecting().indicators(plan.well(), nowMs, progress.reopening()),
        progress.collecting().flow().of(plan.well(), gauges, nowMs, progress.falls()));
  }

  private long lowFromMs(WatchedTwins group) {
    return group.members.get(0).shutIn() ? progress.lowFromMs() : Long.MAX_VALUE;
  }
}

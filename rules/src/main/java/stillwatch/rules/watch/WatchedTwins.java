package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.TwinsIndicator;

/** The gauges of one group of twins. */
final class WatchedTwins {
  final String name;
  final List<WatchedGauge> members = new ArrayList<>();
  final List<WatchedPair> pairs = new ArrayList<>();

  WatchedTwins(String name) {
    this.name = name;
  }

  /** Whether another member can be trusted and is calm. */
  boolean calmBeside(WatchedGauge gauge) {
    for (WatchedGauge g : members) {
      if (g != gauge && g.trusted() && g.calm()) {
        return true;
      }
    }
    return false;
  }

  /** What the members said last, of those that can be trusted now. */
  TwinsIndicator indicator(Moment moment) {
    List<GaugeIndicator> trusted = new ArrayList<>(members.size());
    long atMs = Long.MIN_VALUE;
    for (WatchedGauge g : members) {
      GaugeIndicator said = g.said;
      if (said != null) {
        atMs = Math.max(atMs, said.atMs());
        if (g.trusted()) {
          trusted.add(said);
        }
      }
    }
    return twins(moment, atMs, trusted);
  }

  private TwinsIndicator twins(Moment moment, long atMs, List<GaugeIndicator> trusted) {
    WatchedGauge first = members.get(0);
    int needed = Math.min(2, Math.max(1, trusted.size()));
    Votes level = new Votes(trusted, needed).on(GaugeIndicator::level);
    Votes steep = new Votes(trusted, needed).on(g -> Math.abs(g.slope10m()));
    Votes slope10m = new Votes(trusted, needed).on(GaugeIndicator::slope10m);
    Votes fall60s = new Votes(trusted, needed).on(GaugeIndicator::fall60s);
    Votes fall10m = new Votes(trusted, needed).on(GaugeIndicator::fall10m);
    Votes shortSum = new Votes(trusted, needed).on(GaugeIndicator::shortSum);
    Votes decline = new Votes(trusted, needed).on(g -> -g.slopeFree());
    Votes ceiling = new Votes(trusted, needed).on(GaugeIndicator::ceilingS);
    Votes rise = new Votes(trusted, needed).on(GaugeIndicator::rise);
    Votes once = new Votes(trusted, needed);
    return new TwinsIndicator(
        moment.well(),
        name,
        first.plan.kind().wire(),
        first.plan.role().wire(),
        moment.nowMs(),
        atMs,
        trusted.size(),
        needed,
        trusted,
        level.reached(),
        level.under(),
        level.largest(),
        level.least(),
        steep.under(),
        steep.least(),
        slope10m.reached(),
        slope10m.largest(),
        fall60s.reached(),
        fall60s.largest(),
        fall10m.reached(),
        fall10m.largest(),
        shortSum.reached(),
        shortSum.largest(),
        shortSince(trusted),
        once.on(g -> -g.departure()).reached(),
        decline.reached(),
        decline.largest(),
        once.on(g -> -g.slopeFree() - 2 * g.slopeFreeError()).reached(),
        once.on(GaugeIndicator::slopeFreeError).largest(),
        ceiling.under(),
        ceiling.least(),
        once.on(GaugeIndicator::ceilingSoonS).least(),
        once.on(GaugeIndicator::ceilingLateS).largest(),
        rise.largest(),
        rise.second(),
        once.on(GaugeIndicator::accuracy).largest(),
        moment.bands().intactLowKPa(),
        moment.bands().leakHighKPa(),
        moment.bands().ceilingKPa(),
        moment.sinceOperationS(atMs),
        moment.operation(),
        moment.sinceVesselS(),
        moment.holdPointS(),
        moment.tide());
  }

  private static long shortSince(List<GaugeIndicator> trusted) {
    long latest = -1;
    for (GaugeIndicator g : trusted) {
      latest = Math.max(latest, g.shortSinceMs());
    }
    return latest;
  }
}

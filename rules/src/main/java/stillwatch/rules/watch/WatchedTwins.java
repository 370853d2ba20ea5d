package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.TwinsIndicator;
import stillwatch.rules.plan.Bands;

/** The gauges of one group of twins. */
final class WatchedTwins {
  final String name;
  final List<WatchedGauge> members = new ArrayList<>();

  WatchedTwins(String name) {
    this.name = name;
  }

  /** What the members said last, of those that can be trusted now. */
  TwinsIndicator indicator(String well, long nowMs, Bands bands) {
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
    WatchedGauge first = members.get(0);
    return new TwinsIndicator(
        well,
        name,
        first.plan.kind().wire(),
        first.plan.role().wire(),
        nowMs,
        atMs,
        trusted.size(),
        trusted,
        bands.intactLowKPa(),
        bands.leakHighKPa(),
        bands.ceilingKPa());
  }
}

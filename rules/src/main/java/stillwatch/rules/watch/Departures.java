package stillwatch.rules.watch;

import java.util.List;
import stillwatch.rules.closing.Cycles;
import stillwatch.rules.indicator.DepartureIndicator;

/** Where the closings and openings depart from the plan, for the rules. */
final class Departures {
  private Departures() {}

  static List<DepartureIndicator> of(Cycles cycles, String well, long nowMs) {
    return cycles.departures().stream()
        .map(
            d ->
                new DepartureIndicator(
                    well,
                    nowMs,
                    d.direction().wire(),
                    d.kind().wire(),
                    d.subject(),
                    d.atMs(),
                    (nowMs - d.knownMs()) / 1000.0,
                    d.why()))
        .toList();
  }
}

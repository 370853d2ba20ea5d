package stillwatch.rules.watch;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.closing.Cycle;
import stillwatch.rules.closing.Cycles;
import stillwatch.rules.closing.FlowByPressure;
import stillwatch.rules.indicator.CollectedIndicator;
import stillwatch.rules.plan.Flows;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.well.Uncertain;
import stillwatch.rules.well.WellFacts;

/**
 * What comes out of a well that is being opened, at least, by its pressure, beside what the gauges
 * of kind flow say is collected. Both are taken for the well's good: the least share that any gauge
 * of the shut-in pressure shows by its own readings of the closing, its accuracy twice and the
 * facts' cooling taken off, of the least expected flow; and all that is collected with the gauges'
 * accuracy on top, twins counted once. Not thread-safe.
 */
final class CollectedFlow {
  private final double leastFlow;
  private final double coolingKPa;
  private final Flows flows;
  private Map<String, FlowByPressure> byGauge = Map.of();

  CollectedFlow(Plan plan) {
    leastFlow =
        plan.reopening().map(Reopening::expectedFlow).map(Uncertain::low).orElse(Double.NaN);
    flows = Flows.of(plan);
    WellFacts facts = plan.facts();
    coolingKPa = facts == null ? 0 : facts.cooling().high();
  }

  /** The well is opened after the last of these closings. */
  void opened(Cycles cycles) {
    List<Cycle> all = cycles.all();
    byGauge = all.isEmpty() ? Map.of() : FlowByPressure.of(all.get(all.size() - 1));
  }

  /** For the rules: empty where the plan, the closing or the gauges do not tell both. */
  List<CollectedIndicator> of(String well, Gauges gauges, long nowMs, boolean opened) {
    if (Double.isNaN(leastFlow) || byGauge.isEmpty()) {
      return List.of();
    }
    double collected = collected(gauges, nowMs);
    if (Double.isNaN(collected)) {
      return List.of();
    }
    double share = Double.NaN;
    double level = Double.NaN;
    for (WatchedGauge g : gauges.shutIn()) {
      FlowByPressure course = byGauge.get(g.plan.id());
      if (course != null && g.trusted() && g.fresh(nowMs)) {
        double allowance = 2 * g.plan.accuracy() + coolingKPa;
        double least = course.least(g.track.level() + allowance);
        level = least >= share ? level : g.track.level();
        share = least >= share ? share : least;
      }
    }
    double flow = share * leastFlow;
    return List.of(
        new CollectedIndicator(
            well,
            gauges.shutInGroup(),
            nowMs,
            opened,
            level,
            flow,
            collected,
            opened ? balance(flow, collected) : ""));
  }

  private String balance(double flow, double collected) {
    return "at least %s %s come out of the well, by what the pressure showed in the closing; %s at most are collected, and %s or more are not"
        .formatted(
            flows.plain(flow), flows.sign(), flows.plain(collected), flows.plain(flow - collected));
  }

  /** All that is collected, at most, m³/d; NaN where no gauge or not every one tells it. */
  private static double collected(Gauges gauges, long nowMs) {
    Map<String, Double> most = new HashMap<>();
    for (WatchedGauge g : gauges.all()) {
      if (g.plan.kind() == Kind.FLOW) {
        boolean tells = g.trusted() && g.fresh(nowMs);
        most.merge(
            g.group,
            tells ? g.track.level() + g.plan.accuracy() : Double.NaN,
            (a, b) -> Double.isNaN(a) || b > a ? b : a);
      }
    }
    return most.isEmpty() ? Double.NaN : most.values().stream().mapToDouble(d -> d).sum();
  }
}

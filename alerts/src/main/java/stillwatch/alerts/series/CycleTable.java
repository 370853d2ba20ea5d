package stillwatch.alerts.series;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.stream.Collectors;
import stillwatch.rules.closing.Cycle;
import stillwatch.rules.closing.StepTaken;
import stillwatch.rules.plan.ClosingStep;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.Pressures;

/**
 * The steps of a closing and the cycles side by side in the words and units that page and report
 * share. Immutable.
 */
public final class CycleTable {
  private final Plan plan;
  private final Pressures pressures;
  private final List<String> gauges;

  /** For this plan. */
  public CycleTable(Plan plan) {
    this.plan = plan;
    pressures = Pressures.of(plan);
    gauges = plan.gauges().stream().filter(GaugePlan::ofShutIn).map(GaugePlan::id).toList();
  }

  /** What the plan expects the pressure to do after a step; empty where it says nothing. */
  public String expected(ClosingStep step) {
    return step.response()
        .map(
            r ->
                pressures.changes(r.lowKPa(), r.highKPa())
                    + " within "
                    + ClosingStep.span(r.within()))
        .orElse("");
  }

  /** What each gauge read before and after a step, and the change. */
  public String readings(StepTaken step) {
    return gauges.stream()
        .filter(g -> step.before().containsKey(g))
        .map(g -> readings(g, step))
        .collect(Collectors.joining("; "));
  }

  private String readings(String gauge, StepTaken step) {
    double before = step.before().getOrDefault(gauge, Double.NaN);
    double after = step.after().getOrDefault(gauge, Double.NaN);
    double change = after - before;
    return gauge
        + ": "
        + shown(before)
        + (step.after().containsKey(gauge) ? " to " + shown(after) : "")
        + (Double.isNaN(change) ? "" : ", " + pressures.change(change));
  }

  private String shown(double kPa) {
    return Double.isNaN(kPa) ? "not read" : pressures.fine(kPa) + " " + pressures.sign();
  }

  /** The heads of the comparison: the hours, then each cycle that was shut in with its gauges. */
  public List<String> heads(List<Cycle> cycles) {
    List<String> heads = new ArrayList<>(List.of("After the shut-in"));
    for (Cycle c : shutIn(cycles)) {
      gauges.forEach(g -> heads.add("Cycle " + c.number() + ", " + g));
    }
    return heads;
  }

  /**
   * What the gauges read at the same hours after each shut-in: at every hold point of the plan, and
   * at the newest hour of each cycle.
   */
  public List<List<String>> rows(List<Cycle> cycles) {
    List<Cycle> compared = shutIn(cycles);
    long every = Math.max(1, plan.test().holdPointEvery().toHours());
    TreeSet<Integer> hours = new TreeSet<>();
    for (Cycle c : compared) {
      c.hours().keySet().stream().filter(h -> h % every == 0).forEach(hours::add);
      c.hours().keySet().stream().max(Integer::compare).ifPresent(hours::add);
    }
    List<List<String>> rows = new ArrayList<>();
    for (int hour : hours) {
      List<String> row = new ArrayList<>(List.of(hour + " h"));
      for (Cycle c : compared) {
        Map<String, Double> read = c.hours().getOrDefault(hour, Map.of());
        gauges.forEach(g -> row.add(shown(read.getOrDefault(g, Double.NaN))));
      }
      rows.add(row);
    }
    return rows;
  }

  private static List<Cycle> shutIn(List<Cycle> cycles) {
    return cycles.stream().filter(c -> c.shutInMs().isPresent()).toList();
  }
}

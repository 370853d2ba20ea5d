package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.TestPlan;
import stillwatch.rules.well.FlowHistory;
import stillwatch.rules.well.WellFacts;

/**
 * What the logged closure steps make of the flow: each leaves the share the plan gives it, the last
 * one planned shuts the well in. Rates are shares of the first one. Not thread-safe.
 */
final class Closing {
  private static final double MS_PER_HOUR = 3_600_000;

  private final Plan plan;
  private final List<FlowHistory.Step> steps = new ArrayList<>();
  private long originMs;
  private long shutInMs = Long.MIN_VALUE;
  private boolean opened;

  Closing(Plan plan) {
    this.plan = plan;
  }

  /** Takes an operation; says whether the flow changed by it. */
  boolean accept(Operation operation) {
    List<TestPlan.ClosureStep> planned = plan.test().closureSteps();
    WellFacts facts = plan.facts();
    WellFacts.Flow flow = facts == null ? null : facts.flow();
    if (flow == null || planned.isEmpty()) {
      return false;
    }
    if (operation.what() == Operation.What.OPENING_STEP) {
      opened = true; // how much flows again nobody says
      shutInMs = Long.MIN_VALUE;
      return true;
    }
    if (operation.what() != Operation.What.CLOSURE_STEP || opened || shutInMs != Long.MIN_VALUE) {
      return false;
    }
    if (steps.isEmpty()) {
      originMs = operation.atMs() - Math.round(flow.hours() * MS_PER_HOUR);
      steps.add(new FlowHistory.Step(0, 1));
    }
    double atHours = (operation.atMs() - originMs) / MS_PER_HOUR;
    if (atHours <= steps.get(steps.size() - 1).atHours() || steps.size() > planned.size()) {
      return false;
    }
    double leaves = planned.get(steps.size() - 1).leaves();
    steps.add(new FlowHistory.Step(atHours, leaves));
    if (leaves == 0) {
      shutInMs = operation.atMs();
    }
    return true;
  }

  /** The history up to the last step; null before the first, and once the well is opened again. */
  @Nullable FlowHistory history() {
    return steps.size() < 2 || opened ? null : new FlowHistory(steps);
  }

  /** A time of the sources on the history's clock, hours. */
  double clock(long atMs) {
    return (atMs - originMs) / MS_PER_HOUR;
  }

  /** When the well was shut in, source's time; of no meaning before. */
  long shutInMs() {
    return shutInMs;
  }

  /** Hours of the sources' time since the shut-in; NaN before it. */
  double hours(long atMs) {
    return shutInMs == Long.MIN_VALUE ? Double.NaN : (atMs - shutInMs) / MS_PER_HOUR;
  }
}

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
 * What the logged steps make of the flow: each closure step leaves the share the plan gives it, the
 * last one planned shuts the well in. An opening step lets everything flow again, for nobody says
 * how much does; the next closure step begins the plan's steps anew. Rates are shares of the first
 * one. Not thread-safe.
 */
final class Closing {
  private static final double MS_PER_HOUR = 3_600_000;

  private final Plan plan;
  private final List<FlowHistory.Step> steps = new ArrayList<>();
  private int closed;
  private long originMs;
  private long shutInMs = Long.MIN_VALUE;

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
    return switch (operation.what()) {
      case OPENING_STEP -> open(operation);
      case CLOSURE_STEP -> close(operation, planned, flow);
      default -> false;
    };
  }

  private boolean open(Operation operation) {
    if (closed == 0) {
      return false;
    }
    double atHours = clock(operation.atMs());
    while (steps.get(steps.size() - 1).atHours() >= atHours) {
      steps.remove(steps.size() - 1); // stamped before a step that is said to have come first
    }
    steps.add(new FlowHistory.Step(atHours, 1));
    closed = 0;
    shutInMs = Long.MIN_VALUE;
    return true;
  }

  private boolean close(
      Operation operation, List<TestPlan.ClosureStep> planned, WellFacts.Flow flow) {
    if (closed == planned.size()) {
      return false;
    }
    if (steps.isEmpty()) {
      originMs = operation.atMs() - Math.round(flow.hours() * MS_PER_HOUR);
      steps.add(new FlowHistory.Step(0, 1));
    }
    double atHours = clock(operation.atMs());
    if (atHours <= steps.get(steps.size() - 1).atHours()) {
      return false;
    }
    double leaves = planned.get(closed).leaves();
    steps.add(new FlowHistory.Step(atHours, leaves));
    closed++;
    if (leaves == 0) {
      closed = planned.size();
      shutInMs = operation.atMs();
    }
    return true;
  }

  /** The history up to the last step; null while the well is open. */
  @Nullable FlowHistory history() {
    return closed == 0 ? null : new FlowHistory(steps);
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

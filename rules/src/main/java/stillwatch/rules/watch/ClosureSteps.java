package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.plan.TestPlan;
import stillwatch.rules.well.FlowHistory;

/**
 * What the logged steps make of the flow: each closure step leaves the share the plan gives it, the
 * last one planned, or one that leaves nothing, shuts the well in. Steps count in the order they
 * were logged; one stamped no later than the step before it is taken at that step's time. An
 * opening step lets flow again what the plan's opening list says, and everything where it says
 * nothing; the next closure step begins the plan's steps anew. Rates are shares of the first one.
 * Not thread-safe.
 */
final class ClosureSteps {
  private static final double MS_PER_HOUR = 3_600_000;

  private final List<TestPlan.ClosureStep> planned;
  private final double flowedHours;
  private final List<FlowHistory.Step> steps = new ArrayList<>();
  private @Nullable FlowHistory history;
  private int done;
  private double opened = Double.NaN;
  private long originMs;
  private long lastMs = Long.MIN_VALUE;
  private long shutInMs = Long.MIN_VALUE;

  /**
   * A well that is open.
   *
   * @param planned the plan's steps
   * @param flowedHours how long it flowed before the first step; NaN when nobody knows
   */
  ClosureSteps(List<TestPlan.ClosureStep> planned, double flowedHours) {
    this.planned = planned;
    this.flowedHours = flowedHours;
  }

  /** A closure step; one that is named as one that leaves nothing shuts the well in. */
  void close(long stampedMs, String text) {
    lastMs = Math.max(lastMs, stampedMs);
    if (done == planned.size()) {
      return; // none is planned, or none is left
    }
    boolean shuts = planned.stream().anyMatch(s -> s.leaves() == 0 && s.text().equals(text));
    double leaves = shuts ? 0 : planned.get(done).leaves();
    done = leaves == 0 ? planned.size() : done + 1;
    shutInMs = done == planned.size() ? lastMs : Long.MIN_VALUE;
    flows(leaves);
    opened = Double.NaN;
    history = steps.isEmpty() ? null : new FlowHistory(steps);
  }

  /**
   * An opening step.
   *
   * @param share the share of the first flow that flows after it
   */
  void open(long stampedMs, double share) {
    lastMs = Math.max(lastMs, stampedMs);
    if (done > 0 || (!Double.isNaN(opened) && opened != share)) {
      flows(share);
      opened = share;
    }
    done = 0;
    shutInMs = Long.MIN_VALUE;
    history = null;
  }

  private void flows(double share) {
    if (Double.isNaN(flowedHours)) {
      return;
    }
    if (steps.isEmpty()) {
      originMs = lastMs - Math.round(flowedHours * MS_PER_HOUR);
      steps.add(new FlowHistory.Step(0, 1));
    }
    double atHours = clock(lastMs);
    if (atHours <= steps.get(steps.size() - 1).atHours()) {
      atHours = steps.remove(steps.size() - 1).atHours(); // at one time only the last rate counts
    }
    steps.add(new FlowHistory.Step(atHours, share));
  }

  /** How many of the planned steps are done since the well was last open. */
  int done() {
    return done;
  }

  /** When the last step of either sort was, source's time. */
  long lastMs() {
    return lastMs;
  }

  /** Whether the well is shut in. */
  boolean shutIn() {
    return shutInMs != Long.MIN_VALUE;
  }

  /** When the well was shut in, source's time; {@link Long#MIN_VALUE} while it is not. */
  long shutInMs() {
    return shutInMs;
  }

  /**
   * The history up to the last step; null while the well is open or nobody knows how long it
   * flowed.
   */
  @Nullable FlowHistory history() {
    return history;
  }

  /** A time of the sources on the history's clock, hours. */
  double clock(long atMs) {
    return (atMs - originMs) / MS_PER_HOUR;
  }

  /** Hours of the sources' time since the shut-in; NaN while it is not shut in. */
  double hours(long atMs) {
    return shutIn() ? (atMs - shutInMs) / MS_PER_HOUR : Double.NaN;
  }
}

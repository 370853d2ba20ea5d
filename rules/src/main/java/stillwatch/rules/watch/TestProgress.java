package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.rules.indicator.PassIndicator;
import stillwatch.rules.plan.TestPlan;

/**
 * How far the test has come, as the log tells it: its phase, what was last done to the well, the
 * next hold point, who has looked. Hold points and passes are due from the start of the plan's last
 * phase, then from the last decision and the last pass. Not thread-safe.
 */
public final class TestProgress {
  private final TestPlan plan;
  private final Map<String, Observation> seen = new TreeMap<>();
  private String phase;
  private long lastPhaseMs = Long.MIN_VALUE;
  private long holdPointMs = Long.MAX_VALUE;
  private @Nullable Operation touched;
  private long vesselMs = Long.MIN_VALUE;
  private int closed;
  private long shutInMs = Long.MIN_VALUE;

  /** The start of a test that goes as planned. */
  public TestProgress(TestPlan plan) {
    this.plan = plan;
    phase = plan.phases().isEmpty() ? "" : plan.phases().get(0);
  }

  /** The log begins. */
  public void start(long nowMs) {
    if (plan.phases().size() <= 1) {
      watching(nowMs);
    }
  }

  private void watching(long nowMs) {
    lastPhaseMs = nowMs;
    holdPointMs = nowMs + plan.holdPointEvery().toMillis();
  }

  /** Takes an operation; says whether it touched the well. */
  public boolean accept(Operation operation, long nowMs) {
    count(operation);
    switch (operation.what()) {
      case PHASE -> {
        phase = operation.text();
        if (phase.equals(
            plan.phases().isEmpty() ? "" : plan.phases().get(plan.phases().size() - 1))) {
          watching(nowMs);
        }
      }
      case CLOSURE_STEP, OPENING_STEP, VALVE, LINE_UP -> touched = operation;
      case VESSEL, VESSEL_LEFT, ROV, ROV_OUT, PUMPING, PUMPING_ENDED -> vesselMs = nowMs;
      case GAUGE_SWAPPED, GAUGE_ZEROED, GAUGE_MOVED, GAUGE_OUT, GAUGE_IN, GAUGE_REFERENCE -> {}
    }
    return operation == touched;
  }

  /** Takes an observation. */
  public void accept(Observation observation) {
    seen.put(observation.means(), observation);
  }

  private void count(Operation operation) {
    if (operation.what() == Operation.What.OPENING_STEP) {
      closed = 0;
      shutInMs = Long.MIN_VALUE;
    } else if (operation.what() == Operation.What.CLOSURE_STEP
        && ++closed == plan.closureSteps().size()) {
      shutInMs = operation.atMs();
    }
  }

  /**
   * When the last planned closure step was logged, source's time; {@link Long#MIN_VALUE} before.
   */
  public long shutInMs() {
    return shutInMs;
  }

  /** Takes a decision. */
  public void accept(Decision decision, long nowMs) {
    holdPointMs =
        decision.choice() != Decision.Choice.CONTINUE
            ? Long.MAX_VALUE
            : decision.nextReviewMs() > 0
                ? decision.nextReviewMs()
                : nowMs + plan.holdPointEvery().toMillis();
  }

  /** The phase the test is in. */
  public String phase() {
    return phase;
  }

  long operationAtMs() {
    return touched == null ? Long.MIN_VALUE : touched.atMs();
  }

  String operation() {
    return touched == null
        ? ""
        : touched.what().wire() + (touched.text().isEmpty() ? "" : ": " + touched.text());
  }

  long vesselMs() {
    return vesselMs;
  }

  /** When the next hold point is, log time; {@link Long#MAX_VALUE} when none is set. */
  public long holdPointMs() {
    return holdPointMs;
  }

  /** Seconds until the next hold point; infinite when none is set. */
  double holdPointS(long nowMs) {
    return holdPointMs == Long.MAX_VALUE
        ? Double.POSITIVE_INFINITY
        : (holdPointMs - nowMs) / 1000.0;
  }

  /** Who has looked by which means, and how overdue each planned pass is. */
  public List<PassIndicator> passes(String well, long nowMs) {
    List<PassIndicator> all = new ArrayList<>();
    Map<String, Observation> unplanned = new TreeMap<>(seen);
    for (TestPlan.Pass pass : plan.passes()) {
      Observation last = unplanned.remove(pass.means());
      long from = Math.max(lastPhaseMs, last == null ? Long.MIN_VALUE : last.atMs());
      double overdueS =
          lastPhaseMs == Long.MIN_VALUE
              ? Double.NEGATIVE_INFINITY
              : (nowMs - from - pass.every().toMillis()) / 1000.0;
      all.add(pass(well, pass.means(), nowMs, last, overdueS));
    }
    unplanned.forEach(
        (means, last) -> all.add(pass(well, means, nowMs, last, Double.NEGATIVE_INFINITY)));
    return all;
  }

  private static PassIndicator pass(
      String well, String means, long nowMs, @Nullable Observation last, double overdueS) {
    return last == null
        ? new PassIndicator(well, means, nowMs, "", 0, "", "", overdueS)
        : new PassIndicator(
            well,
            means,
            nowMs,
            last.result().wire(),
            last.atMs(),
            last.text(),
            last.by(),
            overdueS);
  }
}

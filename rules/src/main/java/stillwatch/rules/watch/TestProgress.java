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
final class TestProgress {
  private final TestPlan plan;
  private final Map<String, Observation> seen = new TreeMap<>();
  private String phase;
  private long lastPhaseMs = Long.MIN_VALUE;
  private long holdPointMs = Long.MAX_VALUE;
  private @Nullable Operation touched;
  private long vesselMs = Long.MIN_VALUE;

  TestProgress(TestPlan plan) {
    this.plan = plan;
    phase = plan.phases().isEmpty() ? "" : plan.phases().get(0);
  }

  void start(long nowMs) {
    if (plan.phases().size() <= 1) {
      watching(nowMs);
    }
  }

  private void watching(long nowMs) {
    lastPhaseMs = nowMs;
    holdPointMs = nowMs + plan.holdPointEvery().toMillis();
  }

  /** Takes an operation; says whether it touched the well. */
  boolean accept(Operation operation, long nowMs) {
    switch (operation.what()) {
      case PHASE -> {
        phase = operation.text();
        if (phase.equals(
            plan.phases().isEmpty() ? "" : plan.phases().get(plan.phases().size() - 1))) {
          watching(nowMs);
        }
      }
      case CLOSURE_STEP, OPENING_STEP, VALVE -> touched = operation;
      case VESSEL, ROV -> vesselMs = nowMs;
    }
    return operation == touched;
  }

  void accept(Observation observation) {
    seen.put(observation.means(), observation);
  }

  void accept(Decision decision, long nowMs) {
    holdPointMs =
        decision.choice() != Decision.Choice.CONTINUE
            ? Long.MAX_VALUE
            : decision.nextReviewMs() > 0
                ? decision.nextReviewMs()
                : nowMs + plan.holdPointEvery().toMillis();
  }

  String phase() {
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

  long holdPointMs() {
    return holdPointMs;
  }

  /** Seconds until the next hold point; infinite when none is set. */
  double holdPointS(long nowMs) {
    return holdPointMs == Long.MAX_VALUE
        ? Double.POSITIVE_INFINITY
        : (holdPointMs - nowMs) / 1000.0;
  }

  List<PassIndicator> passes(String well, long nowMs) {
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

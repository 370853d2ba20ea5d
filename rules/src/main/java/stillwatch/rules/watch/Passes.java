package stillwatch.rules.watch;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.rules.indicator.PassIndicator;
import stillwatch.rules.plan.TestPlan;

/**
 * Who has looked at the well by which means, and when somebody is to look again. Not thread-safe.
 */
final class Passes {
  private final List<TestPlan.Pass> planned;
  private final Map<String, Observation> seen = new TreeMap<>();

  Passes(List<TestPlan.Pass> planned) {
    this.planned = planned;
  }

  /** Takes an observation; one written down late does not unsee what was seen after it. */
  void accept(Observation observation) {
    if (observation.means().equals(Observation.READINESS)) {
      return; // a tick, nobody looked
    }
    Observation last = seen.get(observation.means());
    boolean unsees =
        last != null
            && last.result() == Observation.Result.ADVERSE
            && observation.result() != Observation.Result.ADVERSE
            && lookedMs(observation) < lookedMs(last);
    if (!unsees) {
      seen.put(observation.means(), observation);
    }
  }

  /** When somebody looked: a stamp ahead of its reception is ignored. */
  private static long lookedMs(Observation observation) {
    return Math.min(observation.atMs(), observation.receivedMs());
  }

  /**
   * All planned ways of looking and those that somebody used besides.
   *
   * @param fromMs from when the planned ones are due; {@link Long#MIN_VALUE} while they are not
   */
  List<PassIndicator> all(String well, long fromMs, long nowMs) {
    List<PassIndicator> all = new ArrayList<>();
    Map<String, Observation> unplanned = new TreeMap<>(seen);
    for (TestPlan.Pass pass : planned) {
      Observation last = unplanned.remove(pass.means());
      all.add(pass(well, pass.means(), nowMs, last, overdueS(pass.every(), last, fromMs, nowMs)));
    }
    unplanned.forEach(
        (means, last) -> all.add(pass(well, means, nowMs, last, Double.NEGATIVE_INFINITY)));
    return all;
  }

  private static double overdueS(
      Duration every, @Nullable Observation last, long fromMs, long nowMs) {
    if (fromMs == Long.MIN_VALUE) {
      return Double.NEGATIVE_INFINITY;
    }
    long sinceMs = last == null ? fromMs : Math.max(fromMs, lookedMs(last));
    return (nowMs - sinceMs - every.toMillis()) / 1000.0;
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

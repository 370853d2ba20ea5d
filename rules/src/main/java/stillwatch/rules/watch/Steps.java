package stillwatch.rules.watch;

import java.util.List;
import java.util.Map;
import stillwatch.rules.indicator.StepIndicator;

/** What each gauge showed of the last closure step. Not thread-safe. */
final class Steps {
  private Steps() {}

  /** So long after a step, and three readings, a gauge must have answered it. */
  private static final long ANSWERS_MS = 6 * 60_000L;

  /** Notes at each gauge whether it left the last step unanswered while another answered it. */
  static void note(long nowMs, Effects effects) {
    Effects.Done step = effects.step();
    if (step == null) {
      return;
    }
    boolean answered = false;
    for (Map.Entry<WatchedGauge, Double> e : step.levels().entrySet()) {
      answered |= moved(step, e.getKey(), nowMs) >= 3 * least(e.getKey());
    }
    for (Map.Entry<WatchedGauge, Double> e : step.levels().entrySet()) {
      WatchedGauge g = e.getKey();
      double moved = moved(step, g, nowMs);
      if (moved >= least(g)) {
        g.missedStepMs = Long.MIN_VALUE;
      } else if (answered
          && nowMs - step.move().atMs() > Math.max(ANSWERS_MS, 3 * g.periodMs())
          && moved < 0.2 * least(g)) {
        g.missedStepMs = step.move().atMs();
      }
    }
  }

  /** What all gauges of the shut-in pressure showed; none before a step. */
  static List<StepIndicator> of(String well, String group, long nowMs, Effects effects) {
    Effects.Done step = effects.step();
    if (step == null) {
      return List.of();
    }
    double most = Double.NaN;
    double least = 0;
    long slowestMs = 0;
    for (Map.Entry<WatchedGauge, Double> e : step.levels().entrySet()) {
      double moved = moved(step, e.getKey(), nowMs);
      most = Double.isNaN(most) ? moved : Double.isNaN(moved) ? most : Math.max(most, moved);
      least = Math.max(least, least(e.getKey()));
      slowestMs = Math.max(slowestMs, e.getKey().periodMs());
    }
    return List.of(
        new StepIndicator(
            well,
            group,
            nowMs,
            step.move().atMs(),
            (nowMs - step.move().atMs()) / 1000.0,
            3 * slowestMs / 1000.0,
            most,
            least,
            step.move().words()));
  }

  /** How far a gauge has moved since the step at most; NaN while that is not known. */
  private static double moved(Effects.Done step, WatchedGauge g, long nowMs) {
    double from = step.levels().getOrDefault(g, Double.NaN);
    if (g.fresh(nowMs) && !g.track.waiting() && !Double.isNaN(from)) {
      step.moved().merge(g, Math.abs(g.track.level() - from), Math::max);
    }
    return step.moved().getOrDefault(g, Double.NaN);
  }

  private static double least(WatchedGauge g) {
    return g.plan.accuracy();
  }
}

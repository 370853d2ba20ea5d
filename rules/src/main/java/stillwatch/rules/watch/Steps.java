package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import stillwatch.rules.indicator.StepIndicator;

/** What each gauge showed of the last closure step. Not thread-safe. */
final class Steps {
  private Steps() {}

  /** A row for each gauge of the shut-in pressure and one for the well; none before a step. */
  static List<StepIndicator> of(String well, long nowMs, Moves moves, List<WatchedGauge> shutIn) {
    Moves.Move step = moves.step();
    if (step == null || moves.reopening()) {
      return List.of();
    }
    List<StepIndicator> rows = new ArrayList<>();
    int answered = 0;
    int known = 0;
    for (Map.Entry<WatchedGauge, Double> e : step.levels().entrySet()) {
      double moved = moved(e.getKey(), e.getValue(), nowMs);
      known += Double.isNaN(moved) ? 0 : 1;
      answered += moved >= least(e.getKey()) ? 1 : 0;
    }
    double sinceS = (nowMs - step.atMs()) / 1000.0;
    double most = 0;
    double least = 0;
    long slowestMs = 0;
    for (WatchedGauge g : shutIn) {
      double moved = moved(g, step.levels().getOrDefault(g, Double.NaN), nowMs);
      int others = answered - (moved >= least(g) ? 1 : 0);
      least = Math.max(least, least(g));
      slowestMs = Math.max(slowestMs, g.periodMs());
      most = Double.isNaN(moved) ? most : Math.max(most, moved);
      rows.add(
          new StepIndicator(
              well,
              g.plan.id(),
              nowMs,
              step.atMs(),
              sinceS,
              3 * g.periodMs() / 1000.0,
              moved,
              least(g),
              others,
              step.words()));
    }
    rows.add(
        new StepIndicator(
            well,
            well,
            nowMs,
            step.atMs(),
            sinceS,
            3 * slowestMs / 1000.0,
            known == 0 ? Double.NaN : most,
            least,
            answered,
            step.words()));
    return rows;
  }

  private static double moved(WatchedGauge g, double from, long nowMs) {
    return g.fresh(nowMs) && !g.track.waiting() ? Math.abs(g.track.level() - from) : Double.NaN;
  }

  private static double least(WatchedGauge g) {
    return g.plan.accuracy();
  }
}

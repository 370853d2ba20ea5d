package stillwatch.alerts.room;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.well.ExpectedPressures;
import stillwatch.rules.well.WellFacts;

/**
 * The course that the plan's facts lead one to expect of an intact well after the shut-in, drawn
 * once, beside whatever else starts. Empty where the plan has no facts. Safe from any thread.
 */
final class ExpectedCourse {
  private final CompletableFuture<List<ExpectedPressures.AtTime>> build;

  /**
   * What to expect at one time, kPa.
   *
   * @param low nine intact wells in ten stand above it
   * @param middle half of them do
   * @param high one in ten does
   */
  record Expected(double low, double middle, double high) {}

  ExpectedCourse(Plan plan) {
    WellFacts facts = plan.facts();
    build =
        facts == null
            ? CompletableFuture.completedFuture(List.of())
            : CompletableFuture.supplyAsync(() -> ExpectedPressures.of(facts).build());
  }

  /** The course by hours since the shut-in; waits until it is drawn. */
  List<ExpectedPressures.AtTime> all() {
    return build.join();
  }

  /**
   * What to expect so many hours after the shut-in, between the times drawn by the logarithm of
   * time; empty before the first of them, without facts, and until it is drawn.
   */
  Optional<Expected> at(double hours) {
    List<ExpectedPressures.AtTime> times = build.getNow(List.of());
    if (times.isEmpty() || !(hours >= times.get(0).hours())) {
      return Optional.empty();
    }
    int after = 1;
    while (after < times.size() && times.get(after).hours() < hours) {
      after++;
    }
    if (after == times.size()) {
      return Optional.of(expected(times.get(after - 1)));
    }
    ExpectedPressures.AtTime a = times.get(after - 1);
    ExpectedPressures.AtTime b = times.get(after);
    double share = Math.log(hours / a.hours()) / Math.log(b.hours() / a.hours());
    return Optional.of(between(expected(a), expected(b), share));
  }

  private static Expected expected(ExpectedPressures.AtTime t) {
    return new Expected(t.pressure().p10(), t.pressure().p50(), t.pressure().p90());
  }

  private static Expected between(Expected a, Expected b, double share) {
    return new Expected(
        a.low + share * (b.low - a.low),
        a.middle + share * (b.middle - a.middle),
        a.high + share * (b.high - a.high));
  }
}

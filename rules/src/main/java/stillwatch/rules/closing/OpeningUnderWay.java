package stillwatch.rules.closing;

import java.util.List;
import java.util.Optional;
import stillwatch.rules.plan.Plan;

/** An opening while the log tells of it. Not thread-safe. */
final class OpeningUnderWay {
  private final int number;
  private final long begunMs;
  private final ListedSteps steps;
  private Optional<Long> overMs = Optional.empty();

  OpeningUnderWay(Plan plan, int number, long begunMs, List<LevelHistory> histories) {
    this.number = number;
    this.begunMs = begunMs;
    steps = new ListedSteps(plan, Direction.OPENING, "opening " + number, histories);
  }

  ListedSteps steps() {
    return steps;
  }

  boolean over() {
    return overMs.isPresent();
  }

  /** A closure step was logged. */
  void over(long atMs) {
    overMs = Optional.of(atMs);
    steps.over(atMs);
  }

  Opening told() {
    return new Opening(
        number,
        begunMs,
        overMs,
        steps.steps(),
        steps.next(),
        steps.heldMs(),
        List.copyOf(steps.departures()));
  }
}

package stillwatch.rules.closing;

import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.well.WellFacts;

/**
 * What one gauge saw through the steps of a closing. It changes no more, so that whoever asked for
 * it may read it while the log goes on.
 */
public final class StepsSeen {
  private final String gauge;
  private final Optional<List<StepsReading.Change>> before;
  private final List<StepTaken> steps;
  private final List<StepCourse.Median> medians;
  private final @Nullable WellFacts facts;

  StepsSeen(
      String gauge,
      Optional<List<StepsReading.Change>> before,
      List<StepTaken> steps,
      List<StepCourse.Median> medians,
      @Nullable WellFacts facts) {
    this.gauge = gauge;
    this.before = before;
    this.steps = steps;
    this.medians = medians;
    this.facts = facts;
  }

  /** What it says of the rock, worked out anew: many regressions and some thousand draws. */
  public StepsReading read() {
    return StepsReading.of(gauge, before, steps, medians, facts);
  }
}

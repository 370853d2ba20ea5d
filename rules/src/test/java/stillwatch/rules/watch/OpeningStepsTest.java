package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import stillwatch.rules.plan.ClosingStep;
import stillwatch.rules.well.ExponentialIntegral;

/**
 * What the steps of an opening explain, against falls of a well by the line-source solution with
 * superposition in time (R. C. Earlougher, Advances in Well Test Analysis, SPE Monograph 5, 1977,
 * ch. 2) and a loss over the choke that does not grow: two steps, ten minutes to their responses.
 */
class OpeningStepsTest {
  private static final long START = 1_772_967_600_000L;
  private static final double WITHIN_S = 600;
  private static final double SECOND_S = 1200;

  /** Its fall at one second is nothing yet: the slowest rock that the bound is said to hold for. */
  private static final double X_S = Math.exp(-0.5772);

  private final OpeningSteps steps = new OpeningSteps(List.of(step("a", 3000), step("b", 5000)));

  private static ClosingStep step(String name, double mostKPa) {
    ClosingStep.Response response =
        new ClosingStep.Response(-mostKPa, -100, Duration.ofSeconds((long) WITHIN_S));
    return new ClosingStep(name, "choke", 0.5, Duration.ZERO, Optional.of(response));
  }

  private static long at(double seconds) {
    return START + Math.round(seconds * 1000);
  }

  private void opened(String name, double seconds) {
    steps.open(name, at(seconds), true, true);
  }

  /** The fall of a step so long after it that makes its most when its response is read. */
  private static double fall(double mostKPa, double sinceS) {
    return sinceS <= 0
        ? 0
        : mostKPa * ExponentialIntegral.e1(X_S / sinceS) / ExponentialIntegral.e1(X_S / WITHIN_S);
  }

  private static double well(double seconds) {
    return fall(3000, seconds) + fall(5000, seconds - SECOND_S);
  }

  @Test
  void theyExplainForDaysWhatTheStepsOfTheListDoAndLittleMore() {
    opened("a", 0);
    opened("b", SECOND_S);
    double before = well(SECOND_S);
    for (double t = SECOND_S + WITHIN_S; t < 48 * 3600; t *= 1.1) {
      double truth = well(t) - before;
      assertThat(steps.explained(at(t))).as("%.0f s", t).isBetween(truth - 1, 1.06 * truth);
    }
  }

  @Test
  void aSuddenFallIsExplainedTheLessTheLaterItComes() {
    opened("a", 0);
    opened("b", SECOND_S);
    for (double t = SECOND_S + 1; t < 48 * 3600; t += 60) {
      assertThat(steps.suddenly(at(t), 80))
          .as("%.0f s", t)
          .isGreaterThan(well(t) - well(t - 80) - 1);
    }
    assertThat(steps.suddenly(at(SECOND_S + 120), 80)).as("still turned").isGreaterThan(5000);
    assertThat(steps.suddenly(at(SECOND_S + WITHIN_S), 80)).isLessThan(5000 / 5.0);
    assertThat(steps.suddenly(at(SECOND_S + 1200), 80)).isLessThan(100);
  }

  @Test
  void beforeTheFirstStepAndAfterTheOpeningNothingIsExplained() {
    assertThat(steps.suddenly(at(0), 80)).isZero();
    opened("a", 0);
    assertThat(steps.suddenly(at(-6), 80)).isZero();
    assertThat(steps.suddenly(at(-5), 80)).as("logged a little late").isEqualTo(3000);
    steps.close();
    assertThat(steps.suddenly(at(1), 80)).isZero();
    assertThat(steps.underWay()).isFalse();
  }

  @Test
  void whatNamesNoStepIsTheNextOnceTheWellWasShutInAndElseNone() {
    assertThat(steps.open("taken back", at(0), false, true)).isEqualTo(1);
    assertThat(steps.underWay()).isFalse();
    assertThat(steps.open("some turn", at(0), true, true)).as("nobody says how much").isEqualTo(1);
    assertThat(steps.explained(at(10))).isEqualTo(3000);
    assertThat(steps.open(" B", at(900), false, true)).isEqualTo(0.5);
    assertThat(steps.explained(at(910))).isCloseTo(5000, within(10.0));
  }

  @Test
  void aStepWhoseStampCannotBeBelievedExplainsNothing() {
    steps.open("a", at(0), true, false);
    assertThat(steps.explained(at(10))).isZero();
    assertThat(steps.suddenly(at(10), 80)).isZero();
    assertThat(steps.lastMs()).isEqualTo(Long.MIN_VALUE);
  }

  @Test
  void aStepOfWhichNothingIsExpectedExplainsAnyFall() {
    OpeningSteps silent =
        new OpeningSteps(
            List.of(new ClosingStep("a", "choke", 1, Duration.ZERO, Optional.empty())));
    silent.open("a", at(0), true, true);
    assertThat(silent.explained(at(3600))).isInfinite();
    assertThat(silent.suddenly(at(3600), 80)).isInfinite();
  }
}

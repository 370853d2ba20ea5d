package stillwatch.rules.closing;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import stillwatch.rules.plan.ClosingStep;

/**
 * What is read off a closing against the flow that made it, of wells whose pressure falls by a·q +
 * b·q² (P. Forchheimer, Zeitschrift des Vereines deutscher Ingenieure 45, 1901, p. 1782): never
 * more than flows, and little less.
 */
class FlowByPressureTest {
  private static final double[] LEAVES = {0.8, 0.6, 0.42, 0.25, 0.1, 0};

  private static double kPa(double share, double linear, double square) {
    return 46_900 - linear * share - square * share * share;
  }

  private static Cycle closed(double linear, double square, Optional<Long> shutIn) {
    List<StepTaken> steps = new ArrayList<>();
    double before = 1;
    for (int i = 0; i < LEAVES.length; i++) {
      steps.add(
          new StepTaken(
              "step " + i,
              Optional.of(
                  new ClosingStep(
                      "step " + i, "choke", LEAVES[i], Duration.ZERO, Optional.empty())),
              i * 900_000L,
              false,
              Map.of("PT-1", kPa(before, linear, square)),
              Map.of("PT-1", kPa(LEAVES[i], linear, square)),
              Answer.NOT_ASKED,
              List.of()));
      before = LEAVES[i];
    }
    return new Cycle(
        1,
        "",
        Optional.empty(),
        0,
        shutIn,
        Optional.empty(),
        steps,
        Optional.empty(),
        Optional.empty(),
        List.of(),
        Map.of());
  }

  private static FlowByPressure course(double linear, double square) {
    return Objects.requireNonNull(
        FlowByPressure.of(closed(linear, square, Optional.of(4_500_000L))).get("PT-1"));
  }

  @Test
  void neverMoreIsReadOffThanFlowsAndLittleLess() {
    for (double[] well : new double[][] {{25_000, 0}, {5_000, 20_000}, {0, 25_000}}) {
      FlowByPressure course = course(well[0], well[1]);
      for (double share = 0; share <= 1; share += 0.01) {
        assertThat(course.least(kPa(share, well[0], well[1])))
            .as("%.2f of %.0f q + %.0f q²", share, well[0], well[1])
            .isBetween(share - 0.08, share + 1e-9);
      }
    }
  }

  @Test
  void aWellThatHasRecoveredShowsLessAndNoneNothingAndOneBeyondTheClosingAll() {
    FlowByPressure course = course(5_000, 20_000);
    assertThat(course.least(kPa(0.5, 5_000, 20_000) + 1_000)).isBetween(0.4, 0.49);
    assertThat(course.least(47_500)).isZero();
    assertThat(course.least(10_000)).isEqualTo(1);
  }

  @Test
  void nothingIsReadOffWhereTheWellWasNotShutInOrThePressureDidNotRise() {
    assertThat(FlowByPressure.of(closed(5_000, 20_000, Optional.empty()))).isEmpty();
    assertThat(FlowByPressure.of(closed(0, 0, Optional.of(4_500_000L)))).isEmpty();
  }
}

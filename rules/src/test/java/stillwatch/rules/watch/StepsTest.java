package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.indicator.StepIndicator;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/** A gauge that leaves a closure step unanswered which another answers may be plugged. */
class StepsTest {
  private static final long SECOND = 1000;
  private static final long START = 1_772_967_600_000L;
  private static final long NEVER = Long.MIN_VALUE;
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped());

  private final TestProgress progress = new TestProgress(PLAN);
  private final Gauges gauges = new Gauges();
  private final Effects effects = new Effects(PLAN.operations(), progress);
  private long nowMs = START;
  private long stepMs;

  StepsTest() {
    progress.start(START);
    gauges.start(PLAN, START);
  }

  private WatchedGauge gauge(String id) {
    return Objects.requireNonNull(gauges.get(id));
  }

  private void run(int seconds, double first, double second) {
    for (int s = 0; s < seconds; s++) {
      gauge("PT-1").track.accept(nowMs, nowMs, first, Quality.GOOD.code());
      gauge("PT-2").track.accept(nowMs, nowMs, second, Quality.GOOD.code());
      Steps.note(nowMs, effects);
      nowMs += SECOND;
    }
  }

  private void closed() {
    run(60, 30_000, 29_994);
    stepMs = nowMs;
    Operation operation =
        new Operation("larkspur-2", nowMs, nowMs, Operation.What.CLOSURE_STEP, "part-turn", "");
    progress.accept(operation);
    effects.moved(operation, gauges);
  }

  private StepIndicator said() {
    return Steps.of("larkspur-2", "cap", nowMs, effects).get(0);
  }

  @Test
  void theOneThatLeavesItUnansweredForSixMinutesIsNotedUntilItMoves() {
    closed();
    run(6 * 60, 30_070, 29_994);
    assertThat(gauge("PT-2").missedStepMs).as("it has six minutes").isEqualTo(NEVER);
    run(2, 30_070, 29_994);
    assertThat(gauge("PT-2").missedStepMs).isEqualTo(stepMs);
    assertThat(gauge("PT-1").missedStepMs).isEqualTo(NEVER);
    run(10, 30_070, 30_020);
    assertThat(gauge("PT-2").missedStepMs).as("it moved by its accuracy").isEqualTo(NEVER);
  }

  /** The step may have done nothing: then nobody has missed it. */
  @Test
  void whereNoGaugeAnswersNoneIsNoted() {
    closed();
    run(20 * 60, 30_010, 29_994);
    assertThat(gauge("PT-1").missedStepMs).isEqualTo(NEVER);
    assertThat(gauge("PT-2").missedStepMs).isEqualTo(NEVER);
    assertThat(said().moved()).isCloseTo(10, within(1e-6));
  }

  /** What is told is the most that any gauge has moved since, either way, also if it came back. */
  @Test
  void theMostThatAnyMovedIsKept() {
    assertThat(Steps.of("larkspur-2", "cap", nowMs, effects)).isEmpty();
    closed();
    run(60, 30_050, 29_900);
    run(60, 30_000, 29_994);
    assertThat(said().moved()).isCloseTo(94, within(1e-6));
    assertThat(said().sinceS()).isEqualTo((nowMs - stepMs) / 1000.0);
  }
}

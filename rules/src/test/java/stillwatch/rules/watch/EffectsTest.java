package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.Objects;
import java.util.function.LongToDoubleFunction;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Operation.What;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/**
 * What a logged operation explains of a fall: only what it can do. The demo plan states no limits
 * of its own, so that a tenth of a closure step's rise may settle back within 5 min, and a valve
 * may take 50 kPa within 2 min.
 */
class EffectsTest {
  private static final long SECOND = 1000;
  private static final long MIN = 60 * SECOND;
  private static final long START = 1_772_967_600_000L;
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped());

  private final TestProgress progress = new TestProgress(PLAN);
  private final Gauges gauges = new Gauges();
  private final Effects effects = new Effects(PLAN.operations(), progress);
  private long nowMs = START;

  EffectsTest() {
    progress.start(START);
    gauges.start(PLAN, START);
  }

  private void run(int seconds, LongToDoubleFunction kPa) {
    for (int s = 0; s < seconds; s++) {
      for (WatchedGauge g : gauges.shutIn()) {
        g.track.accept(nowMs, nowMs, kPa.applyAsDouble(s), Quality.GOOD.code());
      }
      nowMs += SECOND;
    }
  }

  private void logged(What what, long atMs, String text) {
    Operation operation = new Operation("larkspur-2", atMs, nowMs, what, text, "");
    progress.accept(operation);
    if (what.movesWell()) {
      effects.moved(operation, gauges);
    }
  }

  private void logged(What what) {
    logged(what, nowMs, "test");
  }

  private double allowed(long atMs) {
    return effects.near(atMs, nowMs, gauges).allowed();
  }

  /**
   * A step that raises the pressure by a megapascal in twenty seconds, and is held for a minute.
   */
  private long closedByOneStep() {
    run(120, s -> 30_000);
    long stepMs = nowMs;
    logged(What.CLOSURE_STEP, nowMs, "choke part-turn 1 of 6");
    run(20, s -> 30_000 + 50 * (s + 1));
    run(60, s -> 31_000);
    return stepMs;
  }

  @Test
  void aClosureStepExplainsATenthOfTheRiseItMadeForFiveMinutesAndNoMore() {
    long stepMs = closedByOneStep();
    assertThat(allowed(nowMs)).isCloseTo(100, within(1.0));
    assertThat(allowed(stepMs + 5 * MIN + 3 * SECOND)).isCloseTo(100, within(1.0));
    assertThat(allowed(stepMs + 5 * MIN + 4 * SECOND)).isZero();
  }

  @Test
  void aClosureStepThatRaisedNothingExplainsNoFall() {
    run(120, s -> 30_000);
    logged(What.CLOSURE_STEP);
    run(60, s -> 30_000 - 10 * s);
    assertThat(allowed(nowMs)).isZero();
  }

  /** A valve's entry comes in five minutes late; the step that came after it has been taken. */
  @Test
  void whatIsWrittenDownLateDoesNotPassForTheStepThatCameAfterIt() {
    long stepMs = closedByOneStep();
    logged(What.VALVE, stepMs - MIN, "bleed-off shut");
    Effects.Done step = Objects.requireNonNull(effects.step());
    assertThat(step.move().atMs()).isEqualTo(stepMs);
    assertThat(step.levels().values())
        .as("the levels before the step, not those when the valve was written down")
        .containsOnly(30_000.0);
    assertThat(allowed(nowMs)).isCloseTo(100, within(1.0));
    assertThat(effects.nearWords(stepMs - 30 * SECOND)).startsWith("valve: bleed-off shut at");
  }

  @Test
  void aClosureWrittenDownLateDoesNotPassForTheLastOne() {
    long stepMs = closedByOneStep();
    logged(What.CLOSURE_STEP, stepMs - 10 * MIN, "choke part-turn, forgotten");
    assertThat(Objects.requireNonNull(effects.step()).move().atMs()).isEqualTo(stepMs);
  }

  @Test
  void aValveExplainsFiftyKilopascalsForTwoMinutesFromShortlyBeforeIt() {
    run(60, s -> 46_000);
    long valveMs = nowMs;
    logged(What.VALVE);
    assertThat(allowed(valveMs - 6 * SECOND)).isZero();
    assertThat(allowed(valveMs - 5 * SECOND)).isEqualTo(50);
    assertThat(allowed(valveMs + 2 * MIN + 3 * SECOND)).isEqualTo(50);
    assertThat(allowed(valveMs + 2 * MIN + 4 * SECOND)).isZero();
    assertThat(effects.backByMs(nowMs)).as("and must be back").isEqualTo(nowMs + 10 * MIN);
  }

  @Test
  void whatIsStampedFarAheadOrFarBackExplainsNothing() {
    run(60, s -> 46_000);
    logged(What.VALVE, nowMs + 10 * MIN, "ahead");
    logged(What.OPENING_STEP, nowMs - 7 * 60 * MIN, "back");
    progress.accept(
        new Decision("larkspur-2", nowMs, nowMs, Decision.Choice.CONTINUE, "deciders", "so", 0),
        nowMs);
    logged(What.PHASE, nowMs, "watching");
    for (int m = -8 * 60; m <= 20; m++) {
      assertThat(allowed(nowMs + m * MIN)).as("minute %d", m).isZero();
    }
  }

  @Test
  void presenceExplainsNoFallAndIsNamedForTenMinutesAfterItHasGone() {
    run(60, s -> 46_000);
    logged(What.VESSEL, nowMs, "supply boat");
    assertThat(allowed(nowMs)).isZero();
    assertThat(effects.presence(nowMs, gauges)).isEqualTo("supply boat");
    nowMs += MIN;
    logged(What.VESSEL_LEFT);
    nowMs += 9 * MIN;
    assertThat(effects.presence(nowMs, gauges)).startsWith("supply boat, gone since");
    nowMs += MIN;
    assertThat(effects.presence(nowMs, gauges)).isEmpty();
  }

  @Test
  void whileItIsOpenedAnyFallIsExpectedAndNoneOnceItIsClosedAgain() {
    run(60, s -> 46_000);
    logged(What.OPENING_STEP);
    assertThat(allowed(nowMs)).isInfinite();
    assertThat(effects.step()).isNull();
    nowMs += 40 * MIN;
    logged(What.CLOSURE_STEP);
    assertThat(allowed(nowMs)).isZero();
  }
}

package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.telemetry.Operation;

class SuddenDropTest {
  private static final String RULE = "sudden-drop";

  @Test
  void aFallOfBothTwinsIsRaisedWithinSecondsOnceAndReturnsWhenItIsSteady() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 46_900).run(60, s -> 46_900 - s * 2).run(1500, s -> 46_780);
      assertThat(well.raisedAt(RULE)).isBetween(610L, 630L);
      assertThat(well.said(RULE)).containsExactly("raised PT-1,PT-2", "returned PT-1,PT-2");
    }
  }

  /** Silence is no witness: the other may be plugged, as it has shown no response to the well. */
  @Test
  void aFallOfOneTwinIsNoDropOfBothButUrgentWhileNothingProvesTheOther() {
    try (WellDriver well = new WellDriver()) {
      well.run(2400, s -> 46_900).run(900, s -> 46_900, s -> 46_894 - Math.min(s, 60) * 2);
      assertThat(well.said(RULE)).isEmpty();
      assertThat(well.said("one-gauge-sees")).contains("raised PT-2");
      assertThat(well.first("one-gauge-sees").priority()).isEqualTo(Priority.HIGH);
    }
  }

  @Test
  void aSpikeAndAFallAfterALoggedOpeningAreQuiet() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> s == 300 || s == 301 ? 46_000 : 46_900);
      well.logged(Operation.What.OPENING_STEP).run(60, s -> 46_900 - s * 5).run(1200, s -> 46_600);
      assertThat(well.said(RULE)).isEmpty();
    }
  }

  @Test
  void aShakingToBothSidesIsNoLossOfALevelThatWasHeld() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 46_900)
          .run(180, s -> 46_900 + 100 * Math.sin(s / 3.0))
          .run(1500, s -> 46_900);
      assertThat(well.said(RULE)).isEmpty();
    }
  }

  @Test
  void aBurstAfterAnOutageIsJudgedByTheSourcesTime() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 46_900).silence(20).run(600, s -> 46_900);
      assertThat(well.said(RULE)).isEmpty();
    }
  }

  /** Gauges that read once a minute: a wander of minutes is not sudden, a step of that size is. */
  @Test
  void aSlowGaugesWanderIsNotSuddenAndItsStepIs(@TempDir Path folder) throws IOException {
    Path plan = folder.resolve("slow.yaml");
    String demo = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    Files.writeString(plan, demo.replace("period: 1 s", "period: 60 s"));
    IntToDoubleFunction wander = s -> 45_000 - 9 * Math.min(12, Math.max(0, s / 60 - 90));
    try (WellDriver well = new WellDriver(plan)) {
      well.run(7800, s -> s % 60 == 0 ? wander.applyAsDouble(s) : Double.NaN);
      assertThat(well.said(RULE)).isEmpty();
      well.run(600, s -> s % 60 == 0 ? 44_600 : Double.NaN);
      assertThat(well.said(RULE)).containsExactly("raised PT-1,PT-2");
    }
  }

  /** A wave that holds for half a minute moves the sea and the well alike; nobody did that. */
  @Test
  void whatTheSeaMovesIsNoLossAndIsPutDownToNoOperationButWhatGoesBeyondItIsRaised() {
    IntToDoubleFunction wave = s -> s % 3000 > 2000 && s % 3000 < 2040 ? -120 : 0;
    try (WellDriver well = new WellDriver().beside("PA-1", s -> 14_100 + wave.applyAsDouble(s))) {
      well.logged(Operation.What.CLOSURE_STEP);
      well.run(2900, s -> 46_900 + wave.applyAsDouble(s));
      assertThat(well.said(RULE)).isEmpty();
      assertThat(well.said("explained-fall")).isEmpty();
      well.run(2106, s -> 46_900);
      well.run(60, s -> 45_900);
      assertThat(well.said(RULE)).containsExactly("raised PT-1,PT-2");
    }
  }
}

package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Operation;

/** Falls too small for sudden-drop, and falls that an operation explains. */
class SmallLeakTest {
  /** An intact build-up on its straight line against the logarithm of time, kPa. */
  private static double buildUp(int s) {
    return 45_000 + 300 * Math.log(s + 60);
  }

  @Test
  void aSmallLeakIsFoundLongBeforeItIsASuddenDropAndReturnsOnceItIsSteady() {
    try (WellDriver well = new WellDriver()) {
      well.logged(Operation.What.CLOSURE_STEP)
          .run(14_400, s -> buildUp(s))
          .run(1800, s -> buildUp(s + 14_400) - Math.min(s, 600) * 0.2)
          .run(10_800, s -> buildUp(s + 16_200) - 120);
      assertThat(well.raisedAt("sustained-drop")).isBetween(14_400L, 14_700L);
      assertThat(well.said("sustained-drop"))
          .containsExactly("raised PT-1,PT-2", "returned PT-1,PT-2");
      assertThat(well.said("sudden-drop")).isEmpty();
    }
  }

  /**
   * The expectation learns a fall that lasts; the alarm is over once the pressure falls no more.
   */
  @Test
  void aLeakThatGoesOnForHoursIsOneAlarmUntilThePressureHasSettled() {
    try (WellDriver well = new WellDriver()) {
      well.logged(Operation.What.CLOSURE_STEP)
          .run(14_400, s -> buildUp(s))
          .run(7_200, s -> buildUp(14_400) - s * 100 / 3600.0);
      assertThat(well.said("sustained-drop")).containsExactly("raised PT-1,PT-2");
      well.run(7_200, s -> buildUp(14_400) - 200);
      assertThat(well.said("sustained-drop"))
          .containsExactly("raised PT-1,PT-2", "returned PT-1,PT-2");
    }
  }

  @Test
  void anIntactBuildUpAfterStepsFallsShortOfNothing() {
    try (WellDriver well = new WellDriver()) {
      for (int step = 0; step < 5; step++) {
        double from = 40_000 + 1000 * step;
        well.logged(Operation.What.CLOSURE_STEP)
            .run(1800, s -> from + 1000 * (1 - Math.exp(-s / 20.0)) + 30 * Math.log1p(s / 60.0));
      }
      well.run(14_400, s -> 45_000 + 130 + 300 * Math.log1p(s / 3600.0));
      assertThat(well.said("sustained-drop")).isEmpty();
      assertThat(well.said("slow-fall")).isEmpty();
      assertThat(well.said("ceiling-near")).isEmpty();
    }
  }

  @Test
  void aDeclineBeyondTheSagIsASlowFallAndWithoutAnAmbientGaugeItSaysItIsUncertain() {
    try (WellDriver well = new WellDriver()) {
      well.run(14_400, s -> 45_000 - s * 20 / 3600.0);
      assertThat(well.said("slow-fall")).containsExactly("raised PT-1,PT-2");
      assertThat(well.last("slow-fall").summary()).contains("allowed for, not taken out");
      well.run(14_400, s -> 44_920);
      assertThat(well.said("slow-fall")).containsExactly("raised PT-1,PT-2", "returned PT-1,PT-2");
    }
  }

  @Test
  void aTideThatTheSeaGaugeShowsIsNoSlowFall() {
    try (WellDriver well = new WellDriver()) {
      // 0.8 m of tide at 10 kPa a metre, half of it felt: 5 kPa an hour at its steepest
      well.beside("PA-1", s -> 14_200 + 20 * Math.cos(s * 2 * Math.PI / 44_712));
      well.run(44_712, s -> 45_000 + 10 * Math.cos(s * 2 * Math.PI / 44_712));
      assertThat(well.said("slow-fall")).isEmpty();
    }
  }

  /** What a valve can do by the plan's limits (50 kPa, within 2 min) is suppressed by design. */
  @Test
  void aFallThatALoggedValveCanMakeIsPutDownToItAndRecorded() {
    try (WellDriver well = new WellDriver()) {
      well.run(900, s -> 45_000);
      well.logged(Operation.What.VALVE, "function test").run(20, s -> 45_000 - s * 2);
      well.run(300, s -> 44_960).run(900, s -> 45_000);
      assertThat(well.said("sudden-drop")).isEmpty();
      assertThat(well.said("explained-fall"))
          .containsExactly("raised PT-1,PT-2", "returned PT-1,PT-2");
      assertThat(well.first("explained-fall").summary()).contains("valve: function test");
      assertThat(well.last("explained-fall").priority()).isEqualTo(Priority.INFORMATION);
      assertThat(well.said("loss-unexplained")).isEmpty();
    }
  }

  @Test
  void whatAValveLoweredAndDoesNotComeBackIsALoss() {
    try (WellDriver well = new WellDriver()) {
      well.run(900, s -> 45_000);
      well.logged(Operation.What.VALVE, "function test").run(20, s -> 45_000 - s * 2);
      well.run(1800, s -> 44_960);
      assertThat(well.said("loss-unexplained")).hasSize(1);
    }
  }

  /** A closure raises the pressure: a fall after it is the most suspicious there is. */
  @Test
  void aFallAfterALoggedClosureIsNotPutDownToIt() {
    try (WellDriver well = new WellDriver()) {
      well.run(900, s -> 45_000);
      well.logged(Operation.What.CLOSURE_STEP, "choke part-turn 3")
          .run(40, s -> 45_000 + Math.min(s, 20) * 50)
          .run(60, s -> 46_000 - s * 17)
          .run(900, s -> 44_980);
      assertThat(well.said("sudden-drop")).contains("raised PT-1,PT-2");
      assertThat(well.said("loss-unexplained")).hasSize(1);
    }
  }
}

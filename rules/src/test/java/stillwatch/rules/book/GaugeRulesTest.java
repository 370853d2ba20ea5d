package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

/** The rules about gauges and the feed: each fires, stays quiet, returns and does not chatter. */
class GaugeRulesTest {
  @Test
  void aFrozenGaugeIsFoundByItsOwnHabitAndReturnsWhenItMoves() {
    try (WellDriver well = new WellDriver()) {
      well.run(1200, s -> 46_900).runStill(600, 46_900, 46_894.03).run(300, s -> 46_900);
      assertThat(well.raisedAt("gauge-frozen")).isBetween(1200L + 120, 1200L + 150);
      assertThat(well.said("gauge-frozen")).containsExactly("raised PT-2", "returned PT-2");
    }
  }

  /**
   * Over three hours PT-2 declines by 20 kPa an hour and PT-1 does not: it is told what that lost.
   */
  @Test
  void aDeclineThatOneGaugeShowsSaysWhatItHasLost() {
    try (WellDriver well = new WellDriver()) {
      well.run(18_000, s -> 46_900, s -> 46_894 - 20 * Math.max(0, s - 3600) / 3600.0);
      assertThat(well.said("one-gauge-sees")).first().isEqualTo("raised PT-2");
      assertThat(well.first("one-gauge-sees").summary())
          .matches("PT-2 only: pressure fell by 0\\.0[1-9]\\d* MPa to .*");
    }
  }

  @Test
  void aGaugeWithACoarseStepThatUsuallyStandsStillIsNotFrozen() {
    try (WellDriver well = new WellDriver()) {
      for (int step = 0; step < 120; step++) {
        well.runStill(90, 46_900, 46_880 + step % 2 * 20);
      }
      well.runStill(1200, 46_900, 46_880);
      assertThat(well.said("gauge-frozen")).isEmpty();
    }
  }

  @Test
  void twinsThatDriftApartAreRaisedOnceAndReturnWhenTheyAgree() {
    try (WellDriver well = new WellDriver()) {
      well.run(2400, s -> 46_900)
          .run(1200, s -> 46_900 - s * 0.03, s -> 46_894 + s * 0.03)
          .run(1200, s -> 46_864, s -> 46_930)
          .run(900, s -> 46_900);
      assertThat(well.said("gauge-divergence"))
          .containsExactly("raised PT-1,PT-2", "returned PT-1,PT-2");
      assertThat(well.said("gauge-drifting")).isEmpty(); // both left their course: nobody is named
    }
  }

  @Test
  void twinsWithAConstantOffsetMayDifferForEver() {
    try (WellDriver well = new WellDriver()) {
      well.run(7200, s -> 46_900, s -> 46_860);
      assertThat(well.said("gauge-divergence")).isEmpty();
    }
  }

  @Test
  void aGaugeThatSaysNothingIsSilentAfterItsLimitAndReturnsWhenItSpeaks() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 46_900).run(120, s -> 46_900, s -> Double.NaN).run(60, s -> 46_900);
      assertThat(well.said("gauge-silent")).contains("raised PT-2", "returned PT-2");
      assertThat(well.findings().stream().filter(f -> f.gauges().contains("PT-2") && !f.returned()))
          .singleElement()
          .satisfies(
              f -> assertThat((f.raisedMs() - WellDriver.START_MS) / 1000).isBetween(630L, 645L));
    }
  }

  @Test
  void aShortDropOutIsQuiet() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 46_900).run(20, s -> 46_900, s -> Double.NaN).run(60, s -> 46_900);
      assertThat(well.said("gauge-silent")).doesNotContain("raised PT-2");
    }
  }

  @Test
  void readingsOutsidePhysicsAreAGaugeFaultAtOnceAndNoPressureDrop() {
    for (double impossible : new double[] {0, -1e42, 4_690_000}) {
      try (WellDriver well = new WellDriver()) {
        well.run(1200, s -> 46_900).run(120, s -> 46_900, s -> impossible).run(700, s -> 46_900);
        assertThat(well.raisedAt("gauge-out-of-range")).isBetween(1210L, 1225L);
        assertThat(well.said("gauge-out-of-range")).containsExactly("raised PT-2", "returned PT-2");
        assertThat(well.said("sudden-drop")).isEmpty();
      }
    }
  }

  @Test
  void oneImpossibleReadingIsQuiet() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 46_900, s -> s == 300 ? 0 : 46_894);
      assertThat(well.said("gauge-out-of-range")).isEmpty();
    }
  }

  @Test
  void aFeedWithoutFramesIsSilentAfterItsLimitAndReturns() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 46_900).silence(120).run(60, s -> 46_900);
      assertThat(well.raisedAt("feed-silent")).isBetween(630L, 645L);
      assertThat(well.said("feed-silent")).containsExactly("raised ", "returned ");
    }
  }

  @Test
  void badReadingsAreNoReadings() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 46_900).runBad(120, 40_000);
      assertThat(well.said("gauge-silent")).contains("raised PT-1", "raised PT-2");
      assertThat(well.said("sudden-drop")).isEmpty();
    }
  }

  /**
   * One wild burst is a history of jumps that no well makes: it speaks for the gauge, for hours.
   */
  @Test
  void whatAGaugeAloneSeesAfterItWentWildIsLow() {
    assertThat(priorityAfterAWildBurst(900)).isEqualTo(Priority.LOW);
    assertThat(priorityAfterAWildBurst(7 * 3600)).isEqualTo(Priority.HIGH);
  }

  private static Priority priorityAfterAWildBurst(int quietS) {
    double[] wild = {39_000, 44_000, 38_000, 43_500};
    try (WellDriver well = new WellDriver()) {
      well.run(1200, s -> 45_000)
          .run(wild.length, s -> wild[s], s -> 44_994)
          .run(quietS, s -> 45_000)
          .run(300, s -> 45_000 - 2.0 * s, s -> 44_994);
      return well.first("one-gauge-sees").priority();
    }
  }
}

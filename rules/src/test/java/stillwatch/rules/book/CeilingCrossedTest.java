package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class CeilingCrossedTest {
  private static final String RULE = "ceiling-crossed";

  @Test
  void aboveTheCeilingIsRaisedWithinSecondsAndReturnsBelowTheDeadband() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 51_900).run(300, s -> 52_050).run(300, s -> 51_990).run(300, s -> 51_900);
      assertThat(well.raisedAt(RULE)).isBetween(605L, 630L);
      assertThat(well.said(RULE)).containsExactly("raised PT-1,PT-2", "returned PT-1,PT-2");
    }
  }

  @Test
  void aShortTouchIsQuietAndTheHigherOfTwoGaugesIsJudged() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 51_900).run(600, s -> s < 2 ? 52_100 : 51_900);
      assertThat(well.said(RULE)).isEmpty();
      well.run(120, s -> 52_050, s -> 51_894);
      assertThat(well.said(RULE)).hasSize(1);
      assertThat(well.first(RULE).summary()).contains("by PT-1");
    }
  }

  @Test
  void wanderingAboutTheCeilingIsOneAlert() {
    try (WellDriver well = new WellDriver()) {
      well.run(3600, s -> 52_006 + 8 * Math.sin(s / 30.0));
      assertThat(well.said(RULE)).containsExactly("raised PT-1,PT-2");
    }
  }
}

package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class LowPlateauTest {
  private static final String RULE = "low-plateau";
  private static final int HOUR = 3600;

  @Test
  void threeHoursLowAndFlatAreRaisedOnceAndReturnWhenItMoves() {
    try (WellDriver well = new WellDriver()) {
      well.run(4 * HOUR, s -> 44_000);
      // common practice, no source: three hours; the flatness is known after five minutes
      assertThat(well.raisedAt(RULE)).isBetween(3L * HOUR, 3L * HOUR + 600);
      well.run(3 * HOUR / 2, s -> 44_000 + s * 0.05);
      assertThat(well.said(RULE)).containsExactly("raised PT-1,PT-2", "returned PT-1,PT-2");
    }
  }

  @Test
  void aLevelInTheIntactBandAndASlowBuildUpAreQuiet() {
    try (WellDriver high = new WellDriver();
        WellDriver rising = new WellDriver()) {
      assertThat(high.run(4 * HOUR, s -> 46_100).said(RULE)).isEmpty();
      assertThat(rising.run(4 * HOUR, s -> 44_000 + s * 10.0 / HOUR).said(RULE)).isEmpty();
    }
  }

  @Test
  void aGaugeThatDropsToZeroDoesNotBreakTheTiming() {
    try (WellDriver well = new WellDriver()) {
      well.run(HOUR, s -> 44_000).run(600, s -> 44_000, s -> 0).run(3 * HOUR, s -> 44_000);
      assertThat(well.raisedAt(RULE)).isBetween(3L * HOUR, 3L * HOUR + 600);
    }
  }

  @Test
  void noiseAtTheEdgeOfTheBandDoesNotChatter() {
    try (WellDriver well = new WellDriver()) {
      well.run(5 * HOUR, s -> 45_999 + 0.8 * Math.sin(s / 40.0));
      assertThat(well.said(RULE)).hasSizeLessThanOrEqualTo(1);
    }
  }
}

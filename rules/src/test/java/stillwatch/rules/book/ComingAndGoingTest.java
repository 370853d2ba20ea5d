package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Operation;

/**
 * What the other tests of the rules leave open: quiet when nothing is, over when it is over, no
 * chatter.
 */
class ComingAndGoingTest {
  private static final int HOUR = 3600;

  @Test
  void fiveOrdinaryHoursAreQuiet() {
    try (WellDriver well = new WellDriver()) {
      well.beside("PA-1", s -> 14_200 + 6 * Math.sin(s / 7100.0))
          .beside("TT-1", s -> 4 + 40 * Math.exp(-s / 20_000.0))
          .beside("HY-1", s -> 92)
          .beside("HY-2", s -> 91)
          .beside("TI-1", s -> 0.3)
          .logged(Operation.What.PHASE, "watching")
          .run(5 * HOUR, s -> 45_000 + 150 * Math.log1p(s / 600.0));
      assertThat(well.findings()).allMatch(f -> f.rule().equals("low-time"));
    }
  }

  @Test
  void evidenceIsOverWhenOneOfItsSensesFallsSilent() {
    try (WellDriver well = new WellDriver()) {
      well.beside("HY-1", s -> s < HOUR + 300 || s > 2 * HOUR ? 92 : 101)
          .beside("HY-2", s -> s < HOUR + 300 || s > 2 * HOUR ? 91 : 100)
          .run(HOUR, s -> 45_000)
          .run(60, s -> 45_000 - s * 3)
          .run(5 * HOUR, s -> 44_820);
      assertThat(well.said("leak-evidence")).containsExactly("raised ", "returned ");
    }
  }

  @Test
  void aTwinThatDriftedIsTrustedAgainWhenItIsBack() {
    try (WellDriver well = new WellDriver()) {
      well.run(5400, s -> 45_000 + s * 0.01)
          .run(HOUR, s -> 45_054 + s * 0.01, s -> 45_048 - s * 0.02)
          .run(HOUR, s -> 45_090 + s * 0.01, s -> 44_976 + s * 0.04)
          .run(4 * HOUR, s -> 45_126 + s * 0.01);
      assertThat(well.said("gauge-drifting")).containsExactly("raised PT-2", "returned PT-2");
    }
  }

  @Test
  void aFeedThatStuttersIsOneAlert() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 45_000);
      for (int n = 0; n < 20; n++) {
        well.silence(40).run(5, s -> 45_000);
      }
      assertThat(well.said("feed-silent")).containsExactly("raised ");
      well.run(60, s -> 45_000);
      assertThat(well.said("feed-silent")).containsExactly("raised ", "returned ");
    }
  }

  @Test
  void aClockThatJumpsToAndFroIsOneAlert() {
    try (WellDriver well = new WellDriver()) {
      well.run(900, s -> 45_000);
      for (int n = 0; n < 10; n++) {
        well.runStamped(30, 45_000, -600).run(20, s -> 45_000);
      }
      assertThat(well.said("clock-skew")).containsExactly("raised ");
    }
  }

  @Test
  void gaugesThatFlickerLeaveTheWellUnwatchedOnce() {
    try (WellDriver well = new WellDriver()) {
      well.run(900, s -> 45_000);
      for (int n = 0; n < 10; n++) {
        well.run(40, s -> 0, s -> 0).run(20, s -> 45_000);
      }
      assertThat(well.said("pressure-unwatched")).containsExactly("raised PT-1,PT-2");
    }
  }

  @Test
  void aFallWithNothingLoggedIsPutDownToNothing() {
    try (WellDriver well = new WellDriver()) {
      well.run(900, s -> 45_000).run(60, s -> 45_000 - s).run(600, s -> 44_940);
      assertThat(well.said("explained-fall")).isEmpty();
      assertThat(well.said("sudden-drop")).isNotEmpty();
    }
  }
}

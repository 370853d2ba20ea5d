package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Operation;

class CeilingNearTest {
  private static final String RULE = "ceiling-near";

  @Test
  void aClimbThatGetsThereAfterTheNextHoldPointIsMediumAndBeforeItHigh() {
    try (WellDriver well = new WellDriver()) {
      well.logged(Operation.What.PHASE, "watching");
      // 300 kPa an hour towards 52 MPa, the hold point at six hours
      well.run(16_200, s -> 50_500).run(3600, s -> 50_500 + s / 12.0);
      well.decided(Decision.Choice.CONTINUE).run(3600, s -> 50_800 + s / 12.0);
      assertThat(well.said(RULE))
          .containsExactly("raised PT-1,PT-2", "returned PT-1,PT-2", "raised PT-1,PT-2");
      assertThat(well.findings().stream().filter(f -> f.rule().equals(RULE)).map(f -> f.priority()))
          .containsExactly(Priority.MEDIUM, Priority.MEDIUM, Priority.HIGH);
      well.run(7200, s -> 51_100);
      assertThat(well.said(RULE)).hasSize(4).last().isEqualTo("returned PT-1,PT-2");
    }
  }

  @Test
  void aBuildUpThatFlattensOnTheLogarithmOfTimeIsQuietThoughItsSlopeWouldGetThere() {
    try (WellDriver well = new WellDriver()) {
      well.logged(Operation.What.CLOSURE_STEP)
          .run(14_400, s -> 45_000 + 300 * Math.log1p(s / 60.0));
      assertThat(well.said(RULE)).isEmpty();
    }
  }
}

package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.ingest.telemetry.Operation;

/** What is said of an outage when readings come again and no backlog does. */
class SeenLateTest {
  private static WellDriver outage() {
    return new WellDriver().run(1800, s -> 45_000).silence(1200);
  }

  @Test
  void aWellThatStandsLowerAfterAnOutageIsToldWithItsFirstReadings() {
    try (WellDriver well = outage().run(20, s -> 44_700)) {
      assertThat(well.first("seen-late").priority()).isEqualTo(Priority.HIGH);
      assertThat(well.first("seen-late").summary())
          .matches(
              "Seen late: during the outage, from .* UTC, PT-1 fell by 0.3 MPa and did not return.");
      assertThat(well.raisedAt("seen-late")).isBetween(3000L, 3015L);
    }
  }

  @ParameterizedTest
  @ValueSource(doubles = {45_000, 44_960, 45_300})
  void aWellThatStandsWhereItStoodOrHigherIsNot(double after) {
    try (WellDriver well = outage().run(900, s -> after)) {
      assertThat(well.said("seen-late")).isEmpty();
    }
  }

  @Test
  void whatWasDoneToTheWellMeanwhileExplainsIt() {
    try (WellDriver well =
        outage().logged(Operation.What.OPENING_STEP, "opened").run(60, s -> 40_000)) {
      assertThat(well.said("seen-late")).isEmpty();
    }
  }
}

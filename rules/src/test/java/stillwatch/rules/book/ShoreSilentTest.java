package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Attendance;

/** Whoever watches from shore must confirm within the hour that the rule gives them. */
class ShoreSilentTest {
  @Test
  void silenceFromShoreIsAnAlarmUntilItIsConfirmedAndNoneOnSite() {
    try (WellDriver well = new WellDriver().run(4000, s -> 45_000)) {
      assertThat(well.said("shore-silent")).as("people are with the watch").isEmpty();

      well.attended(Attendance.From.SHORE, "satellite mail, radio").run(3590, s -> 45_000);
      assertThat(well.said("shore-silent")).isEmpty();
      well.run(30, s -> 45_000);
      assertThat(well.raisedAt("shore-silent")).isBetween(7601L, 7620L);
      assertThat(well.first("shore-silent").priority()).isEqualTo(Priority.HIGH);
      assertThat(well.first("shore-silent").summary())
          .startsWith(
              "N. Berg watches from shore by satellite mail, radio, and last confirmed that the digest arrives 1 h");

      well.attended(Attendance.From.SHORE, "radio").run(60, s -> 45_000);
      assertThat(well.said("shore-silent")).containsExactly("raised ", "returned ");
      well.run(3600, s -> 45_000);
      assertThat(well.said("shore-silent")).hasSize(3);
      well.attended(Attendance.From.SITE, "").run(4000, s -> 45_000);
      assertThat(well.said("shore-silent")).hasSize(4);
    }
  }
}

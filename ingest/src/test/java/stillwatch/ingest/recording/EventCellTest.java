package stillwatch.ingest.recording;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;

/** What people did and explained, as cells of a recording. */
class EventCellTest {
  private static Telemetry read(String cell) {
    return EventCell.read(cell, "w", 5, 7);
  }

  private static Operation operation(Operation.What what, String gauge, String text) {
    return new Operation("w", 5, 7, what, gauge, text, "");
  }

  @Test
  void aPersonsExplanationIsReadWithTheSemicolonsOfItsSentence() {
    assertThat(read("explanation: 0123456789ab; surroundings; R. Lindqvist; the tide; no more"))
        .isEqualTo(
            new Explanation(
                "w",
                5,
                7,
                "0123456789ab",
                Explanation.Cause.SURROUNDINGS,
                "the tide; no more",
                "R. Lindqvist"));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "explanation: 0123456789ab; gauge; R. Lindqvist",
        "explanation: 0123456789ab; gauge; ; zeroed",
        "explanation: 0123456789ab; gauge; R. Lindqvist; ",
        "explanation: 0123456789AB; gauge; R. Lindqvist; zeroed",
        "explanation: 0123456789a; gauge; R. Lindqvist; zeroed",
        "explanation: 0123456789ab; the gauge; R. Lindqvist; zeroed",
        "attendance: shore; N. Berg",
        "attendance: shore; ; radio",
        "attendance: site; N. Berg; radio",
        "attendance: at sea; N. Berg; radio",
        "weather: likely; tomorrow; 2026-03-09T10:00:00Z; N. Berg",
        "weather: likely; 2026-03-09T10:00:00Z; 2026-03-09T10:00:00Z; N. Berg",
        "weather: perhaps; 2026-03-08T10:00:00Z; 2026-03-09T10:00:00Z; N. Berg",
        "weather: likely; 2026-03-08T10:00:00Z; 2026-03-09T10:00:00Z",
        "survey: camera; dive 12; seen; seep 2; bubbles; 12.5",
        "survey: camera; dive 12; seen; seep 2; bubbles; east; -3",
        "survey: camera; dive 12; seen; seep 2; ; 12.5; -3",
        "survey: camera; ; nothing",
        "survey: camera; dive 12",
        "survey: camera; dive 12; gone; ; crew",
        "survey: camera; dive 12; lost; seep 2",
        "gauge-zeroed",
        "gauge-zeroed: ; at the surface",
        "gauge-polished: PT-1"
      })
  void aCellThatSaysTooLittleIsRefusedWithASentence(String cell) {
    assertThatThrownBy(() -> read(cell))
        .isInstanceOf(IllegalArgumentException.class)
        .message()
        .isNotBlank();
  }

  @Test
  void whoWatchesFromShoreAndTheWeatherAreReadFromACell() {
    assertThat(read("attendance: shore; N. Berg; satellite mail; radio"))
        .isEqualTo(
            new Attendance("w", 5, 7, Attendance.From.SHORE, "N. Berg", "satellite mail; radio"));
    assertThat(read("attendance: site; A. Berg"))
        .isEqualTo(new Attendance("w", 5, 7, Attendance.From.SITE, "A. Berg", ""));
    assertThat(read("weather: possible; 1970-01-01T00:00:01Z; 1970-01-01T00:00:02Z; N. Berg; gale"))
        .isEqualTo(
            new WeatherForecast(
                "w", 5, 7, WeatherForecast.Certainty.POSSIBLE, 1000, 2000, "N. Berg", "gale"));
  }

  @Test
  void whatAPassOverTheSeabedSawIsReadFromACell() {
    assertThat(
            read(
                "survey: camera; dive 12; seen; seep 2; bubbles; 12.5; -3; 0.4; ; crew; thin; left"))
        .isEqualTo(
            new SurveyItem(
                "w",
                5,
                7,
                "camera",
                "dive 12",
                SurveyItem.What.SEEN,
                "seep 2",
                Optional.of(new SurveyItem.Shape("bubbles", 12.5, -3, 0.4, Double.NaN)),
                "thin; left",
                "crew"));
    assertThat(read("survey: sonar; line 4; gone; mound; crew"))
        .isEqualTo(
            new SurveyItem(
                "w",
                5,
                7,
                "sonar",
                "line 4",
                SurveyItem.What.GONE,
                "mound",
                Optional.empty(),
                "",
                "crew"));
    assertThat(read("survey: sonar; line 4; nothing; crew; calm"))
        .isEqualTo(
            new SurveyItem(
                "w",
                5,
                7,
                "sonar",
                "line 4",
                SurveyItem.What.NOTHING,
                "",
                Optional.empty(),
                "calm",
                "crew"));
  }

  @Test
  void aDecisionKeepsTheSemicolonsOfItsReasonAndACycleSaysWhatChanges() {
    assertThat(read("decision: no-go; A. Berg; no boat; wind rising"))
        .isEqualTo(
            new Decision("w", 5, 7, Decision.Choice.NO_GO, "A. Berg", "no boat; wind rising", 0));
    assertThat(read("decision: cycle; A. Berg; ambiguous; smaller turns; longer holds"))
        .isEqualTo(
            new Decision(
                "w",
                5,
                7,
                Decision.Choice.CYCLE,
                "A. Berg",
                "ambiguous",
                0,
                "smaller turns; longer holds"));
    assertThatThrownBy(() -> read("decision: perhaps; A. Berg; so"))
        .hasMessage(
            "unknown decision 'perhaps'; known are go, no-go, continue, reopen, end, cycle, extend, leave, stay");
  }

  @Test
  void gaugeWorkNamesItsGauge() {
    assertThat(read("gauge-zeroed: PT-2; at the surface; twice"))
        .isEqualTo(operation(Operation.What.GAUGE_ZEROED, "PT-2", "at the surface; twice"));
    assertThat(read("gauge-out: PT-2")).isEqualTo(operation(Operation.What.GAUGE_OUT, "PT-2", ""));
  }

  @Test
  void aVesselThatIsSaidToLeaveInWordsOnlyStaysAVessel() {
    assertThat(read("vessel: supply boat leaves"))
        .isEqualTo(operation(Operation.What.VESSEL, "", "supply boat leaves"));
  }

  @Test
  void everyEndOfAPresenceEndsADifferentOne() {
    assertThat(read("vessel-left: supply boat"))
        .isInstanceOfSatisfying(
            Operation.class, o -> assertThat(o.what().ends()).contains(Operation.What.VESSEL));
    assertThat(Operation.What.ROV_OUT.ends()).contains(Operation.What.ROV);
    assertThat(Operation.What.PUMPING_ENDED.ends()).contains(Operation.What.PUMPING);
  }

  @ParameterizedTest
  @EnumSource(Operation.What.class)
  void everySortIsReadByItsNameAndIsOneThingOnly(Operation.What what) {
    assertThat(read(what.wire() + ": PT-1"))
        .isInstanceOfSatisfying(Operation.class, o -> assertThat(o.what()).isEqualTo(what));
    int things = what.movesWell() ? 1 : 0;
    things += what.presence() ? 1 : 0;
    things += what.ends().isPresent() ? 1 : 0;
    things += what.gaugeWork() ? 1 : 0;
    assertThat(things).isEqualTo(what == Operation.What.PHASE ? 0 : 1);
  }

  @Test
  void anUnknownSortIsRefusedWithTheKnownNames() {
    assertThatThrownBy(() -> read("cementing: plug 2"))
        .hasMessage(
            "unknown operation 'cementing'; known are closure-step, opening-step, valve, line-up,"
                + " vessel, vessel-left, rov, rov-out, pumping, pumping-ended, gauge-swapped,"
                + " gauge-zeroed, gauge-moved, gauge-out, gauge-in, gauge-reference, gauge-clock, phase");
  }
}

package stillwatch.ingest.recording;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Telemetry;

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
            "unknown decision 'perhaps'; known are go, no-go, continue, reopen, end, cycle, extend");
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

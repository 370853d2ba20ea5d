package stillwatch.alerts.desk;

import static org.assertj.core.api.Assertions.assertThat;
import static stillwatch.alerts.desk.AlarmState.ACKNOWLEDGED;
import static stillwatch.alerts.desk.AlarmState.NORMAL;
import static stillwatch.alerts.desk.AlarmState.RETURNED_UNACKNOWLEDGED;
import static stillwatch.alerts.desk.AlarmState.UNACKNOWLEDGED;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Every state with every event (ANSI/ISA-18.2-2016 alarm state transitions B to D, C to A, B to C,
 * D to A; from memory).
 */
class AlarmStateTest {
  @ParameterizedTest
  @CsvSource({
    "UNACKNOWLEDGED, ACKNOWLEDGED, RETURNED_UNACKNOWLEDGED",
    "ACKNOWLEDGED, ACKNOWLEDGED, NORMAL",
    "RETURNED_UNACKNOWLEDGED, NORMAL, RETURNED_UNACKNOWLEDGED",
    "NORMAL, NORMAL, NORMAL"
  })
  void everyStateKnowsEveryEvent(AlarmState from, AlarmState acknowledged, AlarmState returned) {
    assertThat(from.whenAcknowledged()).isEqualTo(acknowledged);
    assertThat(from.whenReturned()).isEqualTo(returned);
  }

  @ParameterizedTest
  @CsvSource({"UNACKNOWLEDGED", "ACKNOWLEDGED", "RETURNED_UNACKNOWLEDGED", "NORMAL"})
  void onlyTheNormalStateConcernsNobody(AlarmState state) {
    assertThat(state.open())
        .isEqualTo(
            state == UNACKNOWLEDGED || state == ACKNOWLEDGED || state == RETURNED_UNACKNOWLEDGED);
    assertThat(NORMAL.open()).isFalse();
  }
}

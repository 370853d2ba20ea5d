package stillwatch.alerts.desk;

import static org.assertj.core.api.Assertions.assertThat;
import static stillwatch.alerts.desk.AlarmState.ACKNOWLEDGED;
import static stillwatch.alerts.desk.AlarmState.LATCHED_ACKNOWLEDGED;
import static stillwatch.alerts.desk.AlarmState.LATCHED_UNACKNOWLEDGED;
import static stillwatch.alerts.desk.AlarmState.NORMAL;
import static stillwatch.alerts.desk.AlarmState.OUT_OF_SERVICE;
import static stillwatch.alerts.desk.AlarmState.RETURNED_UNACKNOWLEDGED;
import static stillwatch.alerts.desk.AlarmState.SHELVED;
import static stillwatch.alerts.desk.AlarmState.SUPPRESSED_BY_DESIGN;
import static stillwatch.alerts.desk.AlarmState.UNACKNOWLEDGED;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Every state with every event. The transitions are those of ANSI/ISA-18.2-2016, the alarm state
 * transition diagram (letters from memory: A normal, B unacknowledged, C acknowledged, D returned
 * unacknowledged, E and F latched, G shelved, H suppressed by design, I out of service); where the
 * diagram has no arrow, nothing happens.
 */
class AlarmStandingTest {
  private static AlarmStanding standing(AlarmState state, boolean lasts, boolean latches) {
    return new AlarmStanding(state, lasts, true, latches);
  }

  /** Columns: the state, then where each event of AlarmEvent's order leads. */
  @ParameterizedTest
  @CsvSource({
    // from                RETURNED                 ACKNOWLEDGED     RE_ALARMED      RESET
    // RAISED_AGAIN
    "UNACKNOWLEDGED,       RETURNED_UNACKNOWLEDGED, ACKNOWLEDGED,    UNACKNOWLEDGED, UNACKNOWLEDGED, UNACKNOWLEDGED",
    "ACKNOWLEDGED,         NORMAL,                  ACKNOWLEDGED,    UNACKNOWLEDGED, ACKNOWLEDGED, ACKNOWLEDGED",
    "SHELVED,              SHELVED,                 SHELVED,         SHELVED,        SHELVED, SHELVED",
    "SUPPRESSED_BY_DESIGN, SUPPRESSED_BY_DESIGN, SUPPRESSED_BY_DESIGN, SUPPRESSED_BY_DESIGN, SUPPRESSED_BY_DESIGN, SUPPRESSED_BY_DESIGN",
    "OUT_OF_SERVICE,       OUT_OF_SERVICE,          OUT_OF_SERVICE,  OUT_OF_SERVICE, OUT_OF_SERVICE, OUT_OF_SERVICE"
  })
  void whatLasts(
      AlarmState from,
      AlarmState returned,
      AlarmState acknowledged,
      AlarmState reAlarmed,
      AlarmState reset,
      AlarmState again) {
    AlarmStanding s = standing(from, true, false);
    assertThat(s.after(AlarmEvent.RETURNED)).isEqualTo(standing(returned, false, false));
    assertThat(s.after(AlarmEvent.ACKNOWLEDGED)).isEqualTo(standing(acknowledged, true, false));
    assertThat(s.after(AlarmEvent.RE_ALARMED)).isEqualTo(standing(reAlarmed, true, false));
    assertThat(s.after(AlarmEvent.RESET)).isEqualTo(standing(reset, true, false));
    assertThat(s.after(AlarmEvent.RAISED_AGAIN)).isEqualTo(standing(again, true, false));
  }

  @ParameterizedTest
  @CsvSource({
    // from                  ACKNOWLEDGED            RESET                    RAISED_AGAIN
    "NORMAL,                  NORMAL,                 NORMAL,                  NORMAL",
    "RETURNED_UNACKNOWLEDGED, NORMAL,                 RETURNED_UNACKNOWLEDGED, NORMAL",
    "LATCHED_UNACKNOWLEDGED,  LATCHED_ACKNOWLEDGED,   LATCHED_UNACKNOWLEDGED,  LATCHED_UNACKNOWLEDGED",
    "LATCHED_ACKNOWLEDGED,    LATCHED_ACKNOWLEDGED,   NORMAL,                  LATCHED_ACKNOWLEDGED",
    "SHELVED,                 SHELVED,                SHELVED,                 SHELVED"
  })
  void whatIsOver(AlarmState from, AlarmState acknowledged, AlarmState reset, AlarmState again) {
    boolean latches = from.name().startsWith("LATCHED");
    AlarmStanding s = standing(from, false, latches);
    assertThat(s.after(AlarmEvent.ACKNOWLEDGED).state()).isEqualTo(acknowledged);
    assertThat(s.after(AlarmEvent.RESET).state()).isEqualTo(reset);
    assertThat(s.after(AlarmEvent.RAISED_AGAIN).state()).isEqualTo(again);
    assertThat(s.after(AlarmEvent.RETURNED)).as("over twice").isEqualTo(s);
    assertThat(s.after(AlarmEvent.RE_ALARMED)).as("what is over does not ask again").isEqualTo(s);
  }

  @Test
  void aLatchingAlarmMustBeAcknowledgedAndReset() {
    AlarmStanding raised = AlarmStanding.raised(true, true);
    assertThat(raised.after(AlarmEvent.RETURNED).state()).isEqualTo(LATCHED_UNACKNOWLEDGED);
    assertThat(raised.after(AlarmEvent.ACKNOWLEDGED).after(AlarmEvent.RETURNED).state())
        .isEqualTo(LATCHED_ACKNOWLEDGED);
    assertThat(
            raised
                .after(AlarmEvent.RETURNED)
                .after(AlarmEvent.ACKNOWLEDGED)
                .after(AlarmEvent.RESET)
                .state())
        .isEqualTo(NORMAL);
  }

  /** Any of A to F can be held back, except that what is normal has nothing to hold. */
  @ParameterizedTest
  @EnumSource
  void holdingBack(AlarmState from) {
    boolean lasts = from == UNACKNOWLEDGED || from == ACKNOWLEDGED || from.held();
    AlarmStanding s = standing(from, lasts, from.name().startsWith("LATCHED"));
    boolean designed = from == SUPPRESSED_BY_DESIGN;
    boolean out = from == OUT_OF_SERVICE;
    assertThat(s.after(AlarmEvent.SHELVED).state())
        .isEqualTo(from == NORMAL || designed || out ? from : SHELVED);
    assertThat(s.after(AlarmEvent.SUPPRESSED).state())
        .isEqualTo(from == NORMAL || out ? from : SUPPRESSED_BY_DESIGN);
    assertThat(s.after(AlarmEvent.REMOVED).state())
        .isEqualTo(from == NORMAL ? from : OUT_OF_SERVICE);
    assertThat(s.after(AlarmEvent.RESTORED).state())
        .as("back by its present condition: G, H, I to A or B")
        .isEqualTo(from.held() ? UNACKNOWLEDGED : from);
  }

  @ParameterizedTest
  @EnumSource(
      value = AlarmState.class,
      names = {"SHELVED", "SUPPRESSED_BY_DESIGN", "OUT_OF_SERVICE"})
  void whatIsOverWhileHeldBackIsNormalAfterwards(AlarmState held) {
    AlarmStanding s = standing(held, true, false).after(AlarmEvent.RETURNED);
    assertThat(s.after(AlarmEvent.RESTORED).state()).isEqualTo(NORMAL);
  }

  @Test
  void informationAsksNobody() {
    AlarmStanding s = AlarmStanding.raised(false, false);
    assertThat(s.state()).isEqualTo(ACKNOWLEDGED);
    assertThat(s.after(AlarmEvent.RE_ALARMED)).isEqualTo(s);
    assertThat(s.after(AlarmEvent.SHELVED).after(AlarmEvent.RESTORED).state())
        .isEqualTo(ACKNOWLEDGED);
    assertThat(s.after(AlarmEvent.RETURNED).state()).isEqualTo(NORMAL);
  }

  @Test
  void everyStateSaysWhetherItAsksIsHeldOrIsOpen() {
    List<AlarmState> asking = new ArrayList<>();
    List<AlarmState> held = new ArrayList<>();
    for (AlarmState s : AlarmState.values()) {
      if (s.asks()) {
        asking.add(s);
      }
      if (s.held()) {
        held.add(s);
      }
      assertThat(s.open()).isEqualTo(s != NORMAL);
    }
    assertThat(asking)
        .containsExactly(UNACKNOWLEDGED, RETURNED_UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED);
    assertThat(held).containsExactly(SHELVED, SUPPRESSED_BY_DESIGN, OUT_OF_SERVICE);
  }
}

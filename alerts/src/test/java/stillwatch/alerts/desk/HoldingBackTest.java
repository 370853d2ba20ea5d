package stillwatch.alerts.desk;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static stillwatch.alerts.desk.Findings.message;
import static stillwatch.alerts.desk.Findings.raised;
import static stillwatch.alerts.desk.Findings.returned;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Set;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import stillwatch.alerts.HandSetClock;
import stillwatch.alerts.journal.Databases;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.route.Outbox;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.DeskPlan;

/** What is shelved, suppressed by the plan or out of service, on both databases. */
class HoldingBackTest {
  private static final DeskPlan PLAN =
      new DeskPlan(
          Duration.ofHours(2),
          Duration.ofHours(4),
          Set.of(),
          Map.of("sudden-drop", List.of("closing")),
          3,
          Duration.ofMinutes(1));

  private final HandSetClock clock = new HandSetClock("2026-03-08T12:00:00Z");
  private final List<String> told = new ArrayList<>();

  @TempDir Path folder;

  private Desk desk(Journal journal) {
    Desk desk =
        new Desk(
            "larkspur-2",
            PLAN,
            journal,
            new Outbox("larkspur-2", journal, List.of(new Nowhere())),
            clock);
    Runnable unused = desk.onChange(a -> told.add(a.finding().id() + " " + a.state()));
    return desk;
  }

  private static long waiting(Journal journal) {
    return new Outbox("larkspur-2", journal, List.of(new Nowhere()))
        .status(Long.MAX_VALUE)
        .get(0)
        .waiting();
  }

  private static void whole(Journal journal) {
    assertThat(JournalCheck.of(journal, null).fault()).isNull();
  }

  @ParameterizedTest
  @EnumSource
  void aShelvedAlarmIsQuietUntilItsTimeIsOverAndThenAsksAgain(Databases database) {
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal);
      desk.take(Topics.ALERTS, List.of(message(0, raised("a", Priority.HIGH))));
      assertThatThrownBy(() -> desk.shelve("a", Duration.ofHours(3), "Ada", "known"))
          .hasMessageContaining("up to 120 min");
      desk.shelve("a", Duration.ofHours(1), "Ada", "a vessel pumps");
      assertThat(desk.holds())
          .singleElement()
          .satisfies(
              h -> {
                assertThat(h.by()).isEqualTo("Ada");
                assertThat(h.point()).isEqualTo("sudden-drop PT-1,PT-2");
              });
      desk.take(Topics.ALERTS, List.of(message(1, raised("b", Priority.HIGH))));
      assertThat(waiting(journal)).as("what is shelved goes nowhere").isEqualTo(1);
      clock.forward(Duration.ofMinutes(59));
      desk.look("watching");
      assertThat(told).containsExactly("a UNACKNOWLEDGED", "a SHELVED", "b SHELVED");
      desk.take(Topics.ALERTS, List.of(message(2, returned("a", Priority.HIGH))));
      told.clear();
      clock.forward(Duration.ofMinutes(1));
      desk.look("watching");
      assertThat(told).containsExactly("a NORMAL", "b UNACKNOWLEDGED");
      assertThat(waiting(journal)).isEqualTo(2);
      assertThat(desk.holds()).isEmpty();
      whole(journal);
    }
  }

  @ParameterizedTest
  @EnumSource
  void whatThePlanSuppressesInAPhaseComesBackWithTheNextOne(Databases database) {
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal);
      desk.take(Topics.ALERTS, List.of(message(0, raised("a", Priority.HIGH))));
      desk.look("closing");
      assertThat(desk.open())
          .extracting(DeskAlarm::state)
          .containsExactly(AlarmState.SUPPRESSED_BY_DESIGN);
      desk.look("watching");
      assertThat(desk.open())
          .extracting(DeskAlarm::state)
          .containsExactly(AlarmState.UNACKNOWLEDGED);
      whole(journal);
    }
  }

  @ParameterizedTest
  @EnumSource
  void whatIsOutOfServiceStaysSoUntilSomebodyReturnsIt(Databases database) {
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal);
      desk.take(Topics.ALERTS, List.of(message(0, raised("a", Priority.HIGH))));
      desk.remove("a", "Root", "hydrophone exchanged");
      clock.forward(Duration.ofDays(3));
      desk.look("watching");
      assertThat(desk.open())
          .extracting(DeskAlarm::state)
          .containsExactly(AlarmState.OUT_OF_SERVICE);
      desk.restore("sudden-drop PT-1,PT-2", "Root");
      assertThat(desk.open())
          .extracting(DeskAlarm::state)
          .containsExactly(AlarmState.UNACKNOWLEDGED);
      assertThatThrownBy(() -> desk.restore("sudden-drop PT-1,PT-2", "Root"))
          .isInstanceOf(NoSuchElementException.class);
      whole(journal);
    }
  }

  @ParameterizedTest
  @EnumSource
  void anAlarmThatComesAgainBeforeAnybodySawItIsOneLineThatCounts(Databases database) {
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal);
      for (int i = 0; i < 3; i++) {
        desk.take(
            Topics.ALERTS,
            List.of(
                message(2L * i, raised("x" + i, Priority.LOW)),
                message(2L * i + 1, returned("x" + i, Priority.LOW))));
      }
      assertThat(desk.open())
          .singleElement()
          .satisfies(
              a -> {
                assertThat(a.finding().id()).isEqualTo("x2");
                assertThat(a.times()).isEqualTo(3);
                assertThat(a.state()).isEqualTo(AlarmState.RETURNED_UNACKNOWLEDGED);
              });
      whole(journal);
    }
  }

  @ParameterizedTest
  @EnumSource
  void whatWasAcknowledgedLongAgoAndStillLastsAsksAgain(Databases database) {
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal);
      desk.take(
          Topics.ALERTS,
          List.of(message(0, raised("h", Priority.HIGH)), message(1, raised("l", Priority.LOW))));
      desk.acknowledge("h", "Ada", "");
      desk.acknowledge("l", "Ada", "");
      clock.forward(Duration.ofHours(4));
      desk.look("watching");
      assertThat(desk.open())
          .extracting(a -> a.finding().id() + " " + a.state())
          .containsExactly("h UNACKNOWLEDGED", "l ACKNOWLEDGED");
      whole(journal);
    }
  }
}

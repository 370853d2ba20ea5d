package stillwatch.alerts.desk;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static stillwatch.alerts.desk.Findings.message;
import static stillwatch.alerts.desk.Findings.raised;
import static stillwatch.alerts.desk.Findings.returned;

import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.NoSuchElementException;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import stillwatch.alerts.journal.Databases;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.route.Outbox;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.DeskPlan;

/** The desk on both databases. */
class DeskTest {
  private static final Clock CLOCK =
      Clock.fixed(Instant.parse("2026-03-08T12:00:00Z"), ZoneOffset.UTC);

  @TempDir Path folder;

  private static Desk desk(Journal journal) {
    return new Desk(
        "larkspur-2", DeskPlan.USUAL, journal, new Outbox("larkspur-2", journal, List.of()), CLOCK);
  }

  private static List<String> record(Journal journal) {
    return journal.transaction(
        c -> {
          List<String> lines = new ArrayList<>();
          try (var s =
                  c.prepareStatement(
                      "select what, subject, by_whom from entry where what not in ('rows', 'upgraded') order by seq");
              var r = s.executeQuery()) {
            while (r.next()) {
              lines.add(r.getString(1) + " " + r.getString(2) + " " + r.getString(3));
            }
          }
          return lines;
        });
  }

  @ParameterizedTest
  @EnumSource
  void whatIsSaidAgainIsTakenOnceAlsoAfterARestart(Databases database) {
    try (Journal journal = database.open(folder)) {
      assertThat(desk(journal).take(Topics.ALERTS, List.of(message(0, raised("a", Priority.HIGH)))))
          .isEqualTo(1);
    }
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal);
      assertThat(
              desk.take(
                  Topics.ALERTS,
                  List.of(
                      message(0, raised("a", Priority.HIGH)),
                      message(1, raised("a", Priority.HIGH)))))
          .isZero();
      assertThat(desk.open())
          .extracting(DeskAlarm::state)
          .containsExactly(AlarmState.UNACKNOWLEDGED);
      assertThat(journal.inbox("larkspur-2", Topics.ALERTS)).containsEntry(0, 2L);
      assertThat(record(journal)).containsExactly("raised a ");
    }
  }

  @ParameterizedTest
  @EnumSource
  void whatIsOnlyInformationIsOnRecordAndAsksNobody(Databases database) {
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal);
      desk.take(Topics.ALERTS, List.of(message(0, raised("i", Priority.INFORMATION))));
      assertThat(desk.open()).extracting(DeskAlarm::state).containsExactly(AlarmState.ACKNOWLEDGED);
      desk.take(Topics.ALERTS, List.of(message(1, returned("i", Priority.INFORMATION))));
      assertThat(desk.open()).isEmpty();
      assertThat(record(journal)).containsExactly("raised i ", "returned i ");
    }
  }

  @ParameterizedTest
  @EnumSource
  void anAlarmGoesFromRaisedToNormal(Databases database) {
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal);
      List<AlarmState> told = new ArrayList<>();
      Runnable handle = desk.onChange(a -> told.add(a.state()));
      desk.take(Topics.ALERTS, List.of(message(0, raised("b", Priority.LOW))));
      desk.acknowledge("b", "Ada", "seen");
      desk.acknowledge("b", "Bob", "too late");
      desk.take(Topics.ALERTS, List.of(message(1, returned("b", Priority.LOW))));
      handle.run();

      assertThat(told)
          .containsExactly(AlarmState.UNACKNOWLEDGED, AlarmState.ACKNOWLEDGED, AlarmState.NORMAL);
      assertThat(desk.open()).isEmpty();
      assertThat(desk.newest(5))
          .singleElement()
          .satisfies(
              a -> {
                assertThat(a.acknowledgedBy()).isEqualTo("Ada");
                assertThat(a.raisedSummary()).isEqualTo("It fell.");
                assertThat(a.finding().summary()).isEqualTo("It is steady.");
              });
      assertThat(record(journal)).containsExactly("raised b ", "acknowledged b Ada", "returned b ");
    }
  }

  @ParameterizedTest
  @EnumSource
  void theMostUrgentStandsFirst(Databases database) {
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal);
      desk.take(
          Topics.ALERTS,
          List.of(
              message(0, raised("l", Priority.LOW)),
              message(1, raised("h", Priority.HIGH)),
              message(2, raised("m", Priority.MEDIUM))));
      assertThat(desk.open()).extracting(a -> a.finding().id()).containsExactly("h", "m", "l");
      assertThatThrownBy(() -> desk.acknowledge("none", "Ada", ""))
          .isInstanceOf(NoSuchElementException.class)
          .hasMessageContaining("'none'");
    }
  }

  @ParameterizedTest
  @EnumSource
  void whatSpeaksAgainstGaugesIsFoundByWhatItIsAbout(Databases database) {
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal);
      List<String> rules = List.of("gauge-spiking", "gauge-divergence", "slow-fall", "clock-skew");
      for (int i = 0; i < rules.size(); i++) {
        desk.take(
            Topics.ALERTS,
            List.of(message(i, Findings.at(rules.get(i), "PT-1", Priority.LOW, 1_000L * i))));
      }
      assertThat(desk.heldOrAgainstGauges(9))
          .extracting(a -> a.finding().rule())
          .containsExactly("gauge-divergence", "gauge-spiking");
    }
  }
}

package stillwatch.alerts.desk;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import stillwatch.alerts.HandSetClock;
import stillwatch.alerts.journal.Databases;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.route.Outbox;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.DeskPlan;

/** Thousands of alerts in a minute, on both databases. */
class FloodTest {
  private static final int MANY = Integer.getInteger("stillwatch.flood", 2000);
  private static final int BATCH = 500; // as a poll of the topic brings them
  private static final long FROM_MS = 1_772_971_200_000L;

  @TempDir Path folder;

  @ParameterizedTest
  @EnumSource
  void nothingIsLostTheMostUrgentStandFirstAndTheFloodIsNamed(Databases database) {
    try (Journal journal = database.open(folder)) {
      Outbox outbox = new Outbox("larkspur-2", journal, List.of(new Nowhere()));
      Desk desk =
          new Desk(
              "larkspur-2",
              DeskPlan.USUAL,
              journal,
              outbox,
              new HandSetClock("2026-03-08T12:00:00Z"));
      List<Message> batch = new ArrayList<>();
      for (int i = 0; i < MANY; i++) {
        Priority priority = i % 1000 == 999 ? Priority.HIGH : Priority.LOW;
        Finding finding =
            Findings.at("gauge-noisy", "G" + i, priority, FROM_MS + 60_000L * i / MANY);
        batch.add(Findings.message(i, finding));
        if (batch.size() == BATCH) {
          assertThat(desk.take(Topics.ALERTS, batch)).isEqualTo(BATCH);
          batch.clear();
        }
      }
      List<DeskAlarm> all = desk.newest(Integer.MAX_VALUE);
      assertThat(all).hasSize(MANY).extracting(a -> a.finding().id()).doesNotHaveDuplicates();
      assertThat(desk.openCount()).isEqualTo(MANY);
      assertThat(outbox.status(Long.MAX_VALUE).get(0).waiting()).isEqualTo(MANY);
      assertThat(desk.open(MANY / 1000 + 1).stream().map(a -> a.finding().priority()))
          .as("those of high priority, then the first of the others")
          .startsWith(Priority.HIGH)
          .endsWith(Priority.LOW)
          .filteredOn(p -> p == Priority.HIGH)
          .hasSize(MANY / 1000);
      AlarmFigures figures = AlarmFigures.sinceFirst(all, DeskPlan.USUAL, FROM_MS + 60_000);
      assertThat(figures.floods())
          .singleElement()
          .satisfies(f -> assertThat(f.alarms()).isEqualTo(MANY));
      assertThat(JournalCheck.of(journal, null).fault()).isNull();
    }
  }
}

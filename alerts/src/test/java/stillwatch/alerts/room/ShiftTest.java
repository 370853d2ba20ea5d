package stillwatch.alerts.room;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.alerts.HandSetClock;
import stillwatch.alerts.desk.Desk;
import stillwatch.alerts.desk.Findings;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.route.Outbox;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.DeskPlan;

/** What a hand-over tells of the shift, and at which times. */
class ShiftTest {
  private static final String RAISED = "2026-03-08T12:00:00Z";

  private final HandSetClock machine = new HandSetClock("2026-11-28T09:00:00Z");
  private final HandSetClock log = new HandSetClock(RAISED);

  @TempDir Path folder;

  private static List<String> told(Journal journal, boolean exercise) {
    ObjectNode n = new ObjectMapper().createObjectNode();
    new Shift(journal, "larkspur-2").tell(n, exercise);
    List<String> told = new ArrayList<>();
    n.path("told").forEach(t -> told.add(t.path("what").asText() + " " + t.path("at").asText()));
    return told;
  }

  /** An alarm is raised; every ten minutes of the log somebody does something. */
  private void act(Journal journal) {
    Desk desk =
        new Desk(
            "larkspur-2",
            DeskPlan.USUAL,
            journal,
            new Outbox("larkspur-2", journal, List.of()),
            machine);
    Finding alarm =
        Findings.at("gauge-noisy", "PT-1", Priority.LOW, Instant.parse(RAISED).toEpochMilli());
    desk.take(Topics.ALERTS, List.of(Findings.message(0, alarm)));
    List<Runnable> doing =
        List.of(
            () -> desk.acknowledge(alarm.id(), "Ada", "seen"),
            () -> desk.note("", "Ada", "weather rising"),
            () -> desk.shelve(alarm.id(), Duration.ofHours(1), "Ada", "known"),
            () -> desk.restore("gauge-noisy PT-1", "Ada"));
    for (Runnable one : doing) {
      log.forward(Duration.ofMinutes(10));
      machine.forward(Duration.ofSeconds(10));
      one.run();
    }
  }

  @Test
  void anExerciseTellsEachActionAtTheTimeThatTheLogWasAt() {
    try (Journal journal = Journal.inFolder(folder)) {
      journal.exercise(log::millis);
      act(journal);
      assertThat(told(journal, true))
          .containsExactly(
              "raised 2026-03-08T12:00:00.000Z",
              "acknowledged 2026-03-08T12:10:00Z",
              "note 2026-03-08T12:20:00Z",
              "held-back 2026-03-08T12:30:00Z",
              "released 2026-03-08T12:40:00Z");
    }
  }

  @Test
  void aWatchTellsThemByThisMachinesClock() {
    try (Journal journal = Journal.inFolder(folder)) {
      act(journal);
      assertThat(told(journal, false))
          .containsExactly(
              "raised 2026-11-28T09:00:00Z",
              "acknowledged 2026-11-28T09:00:10Z",
              "note 2026-11-28T09:00:20Z",
              "held-back 2026-11-28T09:00:30Z",
              "released 2026-11-28T09:00:40Z");
    }
  }
}

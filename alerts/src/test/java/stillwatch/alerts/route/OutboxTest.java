package stillwatch.alerts.route;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import stillwatch.alerts.desk.Desk;
import stillwatch.alerts.desk.Findings;
import stillwatch.alerts.journal.Databases;
import stillwatch.alerts.journal.Journal;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.entrance.Trust;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.DeskPlan;
import stillwatch.rules.plan.RoutePlan;

/** What waits in a journal of two wells, each of which has a route of the same name. */
class OutboxTest {
  private static final Clock CLOCK =
      Clock.fixed(Instant.parse("2026-03-08T12:00:00Z"), ZoneOffset.UTC);

  @TempDir Path folder;

  private static Route duty(String well) {
    RoutePlan.Syslog to = new RoutePlan.Syslog("127.0.0.1", 9, false);
    return Route.of(new RoutePlan("duty", to, Priority.LOW, null, null, null), well, Trust.usual());
  }

  private static Outbox told(Journal journal, Finding finding) {
    String well = finding.well();
    Outbox outbox = new Outbox(well, journal, List.of(duty(well)));
    Desk desk = new Desk(well, DeskPlan.USUAL, journal, outbox, CLOCK);
    desk.take(Topics.ALERTS, List.of(Findings.message(0, finding)));
    return outbox;
  }

  @ParameterizedTest
  @EnumSource
  void aRouteDeliversWhatItsOwnWellSaysHoweverUrgentAnotherIs(Databases database) {
    try (Journal journal = database.open(folder)) {
      Outbox one = told(journal, Findings.raised("a", Priority.LOW));
      Outbox other = told(journal, Findings.of("larkspur-3", Findings.raised("b", Priority.HIGH)));
      long nowMs = CLOCK.millis();
      assertThat(one.begin(duty("larkspur-2"), nowMs)).map(d -> d.finding().id()).contains("a");
      assertThat(other.begin(duty("larkspur-3"), nowMs)).map(d -> d.finding().id()).contains("b");
    }
  }
}

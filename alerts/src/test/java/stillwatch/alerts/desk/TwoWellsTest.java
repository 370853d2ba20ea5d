package stillwatch.alerts.desk;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static stillwatch.alerts.desk.Findings.message;
import static stillwatch.alerts.desk.Findings.raised;
import static stillwatch.alerts.desk.Findings.returned;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.NoSuchElementException;
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
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.plan.DeskPlan;

/** Two wells in one journal, whose gauges and routes have the same names. */
class TwoWellsTest {
  private static final String ONE = "larkspur-2";
  private static final String OTHER = "larkspur-3";

  /** Of one and the same point, each of its well. */
  private static final List<Message> BOTH =
      List.of(
          message(0, raised("a", Priority.HIGH)),
          message(1, Findings.of(OTHER, raised("b", Priority.HIGH))));

  @TempDir Path folder;

  private final HandSetClock clock = HandSetClock.ticking("2026-03-08T12:00:00Z");

  private static Outbox outbox(Journal journal, String well) {
    return new Outbox(well, journal, List.of(new Nowhere()));
  }

  private Desk desk(Journal journal, String well) {
    return new Desk(well, DeskPlan.USUAL, journal, outbox(journal, well), clock);
  }

  private static long waiting(Journal journal, String well) {
    return outbox(journal, well).status(Long.MAX_VALUE).get(0).waiting();
  }

  @ParameterizedTest
  @EnumSource
  void whatIsDoneToOneLeavesTheOtherAlsoAfterARestart(Databases database) {
    try (Journal journal = database.open(folder)) {
      Desk one = desk(journal, ONE);
      Desk other = desk(journal, OTHER);
      one.take(Topics.ALERTS, BOTH);
      other.take(Topics.ALERTS, BOTH);
      one.shelve("a", Duration.ofHours(1), "Ada", "a vessel pumps");
      other.acknowledge("b", "Bob", "seen");
    }
    try (Journal journal = database.open(folder)) {
      Desk one = desk(journal, ONE);
      Desk other = desk(journal, OTHER);
      assertThat(one.newest(5)).extracting(a -> a.finding().id()).containsExactly("a");
      assertThat(one.open()).extracting(DeskAlarm::state).containsExactly(AlarmState.SHELVED);
      assertThat(other.newest(5)).extracting(a -> a.finding().id()).containsExactly("b");
      assertThat(other.open())
          .extracting(DeskAlarm::state)
          .containsExactly(AlarmState.ACKNOWLEDGED);
      assertThat(other.holds()).isEmpty();
      assertThat(JournalCheck.of(journal, null).fault()).isNull();
    }
  }

  @ParameterizedTest
  @EnumSource
  void anAlarmIsKnownToTheDeskOfItsWellOnly(Databases database) {
    try (Journal journal = database.open(folder)) {
      Desk one = desk(journal, ONE);
      one.take(Topics.ALERTS, BOTH);
      Desk other = desk(journal, OTHER);
      assertThat(other.find("a")).isEmpty();
      assertThatThrownBy(() -> other.acknowledge("a", "Bob", "seen"))
          .isInstanceOf(NoSuchElementException.class);
      assertThatThrownBy(() -> other.note("a", "Bob", "seen"))
          .isInstanceOf(NoSuchElementException.class);
      assertThat(one.open())
          .extracting(DeskAlarm::state)
          .containsExactly(AlarmState.UNACKNOWLEDGED);
    }
  }

  @ParameterizedTest
  @EnumSource
  void oneThatLagsGoesOnWhereItStoppedItself(Databases database) {
    try (Journal journal = database.open(folder)) {
      desk(journal, ONE).take(Topics.ALERTS, BOTH);
      desk(journal, OTHER).take(Topics.ALERTS, BOTH.subList(0, 1));
      assertThat(new FromTheInbox(journal, ONE, Topics.ALERTS).assigned(List.of(0)))
          .containsExactly(Map.entry(0, 2L));
      assertThat(new FromTheInbox(journal, OTHER, Topics.ALERTS).assigned(List.of(0)))
          .containsExactly(Map.entry(0, 1L));
    }
  }

  @ParameterizedTest
  @EnumSource
  void whatWaitsToGoOutCountsForItsWellOnly(Databases database) {
    try (Journal journal = database.open(folder)) {
      desk(journal, ONE)
          .take(
              Topics.ALERTS,
              List.of(BOTH.get(0), message(1, returned("a", Priority.HIGH)), BOTH.get(1)));
      assertThat(waiting(journal, ONE)).isEqualTo(2);
      assertThat(waiting(journal, OTHER)).isZero();
    }
  }

  @ParameterizedTest
  @EnumSource
  void aFindingThatIsKeyedByAnotherWellIsLeftOutAndReadPast(Databases database) {
    try (Journal journal = database.open(folder)) {
      Finding strayed = Findings.of(OTHER, raised("b", Priority.HIGH));
      Desk one = desk(journal, ONE);
      one.take(
          Topics.ALERTS,
          List.of(new Message(0, 0, ONE, FindingCodec.encode(strayed), Map.of()), BOTH.get(0)));
      assertThat(one.newest(5)).extracting(a -> a.finding().id()).containsExactly("a");
      assertThat(desk(journal, OTHER).newest(5)).isEmpty();
      assertThat(journal.inbox(ONE, Topics.ALERTS)).containsExactly(Map.entry(0, 1L));
    }
  }
}

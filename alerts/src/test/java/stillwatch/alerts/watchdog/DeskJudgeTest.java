package stillwatch.alerts.watchdog;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.alerts.HandSetClock;
import stillwatch.alerts.desk.Desk;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.journal.Databases;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.route.Outbox;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

class DeskJudgeTest {
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped());

  @TempDir Path folder;

  private final HandSetClock clock = new HandSetClock("2026-03-08T12:00:00Z");
  private List<String> blind = List.of();
  private boolean wanted = true;
  private Journal journal;
  private Desk desk;

  @BeforeEach
  void open() {
    journal = Databases.FILE.open(folder);
    desk =
        new Desk(
            PLAN.well(), PLAN.desk(), journal, new Outbox(PLAN.well(), journal, List.of()), clock);
  }

  @AfterEach
  void close() {
    journal.close();
  }

  private DeskJudge judge() {
    return new DeskJudge(
        DeskJudge.WATCH_LOST, desk, PLAN, () -> blind, () -> wanted, clock::millis, clock);
  }

  private void watch(DeskJudge judge, int seconds) {
    for (int s = 0; s < seconds; s++) {
      judge.judge();
      judge.say();
      clock.forward(Duration.ofSeconds(1));
    }
  }

  private List<DeskAlarm> said() {
    return desk.newest(10);
  }

  @Test
  void aBlindWatchIsToldOnceWithItsReasonAndReturnsWhenItSees() {
    DeskJudge judge = judge();
    blind = List.of("The rules stopped: out of memory.");
    watch(judge, 600);
    assertThat(said()).hasSize(1);
    assertThat(said().get(0).raisedSummary())
        .isEqualTo("The watch is blind: The rules stopped: out of memory.");
    assertThat(said().get(0).finding().returned()).isFalse();

    blind = List.of();
    watch(judge, 600);
    assertThat(said()).hasSize(1);
    assertThat(said().get(0).finding().returned()).isTrue();
  }

  @Test
  void aHiccupIsNotTold() {
    DeskJudge judge = judge();
    for (int n = 0; n < 20; n++) {
      blind = List.of("The rules are 31 s behind the log.");
      watch(judge, 14);
      blind = List.of();
      watch(judge, 2);
    }
    assertThat(said()).isEmpty();
  }

  @Test
  void whatAnEarlierRunLeftStandingReturnsAndIsNotRaisedAgain() throws InterruptedException {
    blind = List.of("No reading has come for 16 s.");
    watch(judge(), 60);

    DeskJudge after = judge();
    Thread thread = new Thread(after);
    thread.start(); // takes up what stands, as the program does
    blind = List.of();
    for (int n = 0; n < 100 && !said().get(0).finding().returned(); n++) {
      Thread.sleep(100);
      clock.forward(Duration.ofSeconds(5));
    }
    after.close();
    thread.join();
    assertThat(said()).hasSize(1);
    assertThat(said().get(0).finding().returned()).isTrue();
  }

  @Test
  void afterADrillNothingIsMissed() {
    wanted = false;
    blind = List.of("No reading has come for 5 min.");
    watch(judge(), 600);
    assertThat(said()).isEmpty();
  }
}

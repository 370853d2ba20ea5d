package stillwatch.alerts.watchdog;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import stillwatch.alerts.HandSetClock;
import stillwatch.alerts.series.WellPicture;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

class WatchdogTest {
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped());

  private final HandSetClock clock = new HandSetClock("2026-03-08T12:00:00Z");
  private final Watchdog watchdog =
      new Watchdog(PLAN.well(), new WellPicture(PLAN, clock, false), clock, 1);

  private List<String> ofTheDesk() {
    return watchdog.blind().stream().filter(why -> why.startsWith("The desk ")).toList();
  }

  /** A thread that waits for ever throws nothing: only its silence tells. */
  @Test
  void aStageThatHangsIsNamedWithHowLongItIsSilent() {
    Runnable alive = watchdog.expects("desk");
    clock.forward(Duration.ofSeconds(15));
    assertThat(ofTheDesk()).isEmpty();
    clock.forward(Duration.ofSeconds(5));
    assertThat(ofTheDesk()).containsExactly("The desk has given no sign of life for 20 s.");
    alive.run();
    assertThat(ofTheDesk()).isEmpty();
  }

  @Test
  void oneThatStartsAgainAndAgainIsBrokenUntilItWorks() {
    Runnable alive = watchdog.expects("desk");
    watchdog.stopped("desk", "the journal does not answer");
    watchdog.running("desk");
    watchdog.expects("desk");
    assertThat(ofTheDesk()).containsExactly("The desk stopped: the journal does not answer.");
    alive.run();
    assertThat(ofTheDesk()).isEmpty();
  }
}

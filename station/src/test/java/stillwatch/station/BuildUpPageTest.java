package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;

/** What is said of the build-up, on the page of a live watch and on that of a replay. */
class BuildUpPageTest {
  @TempDir Path data;

  private final Browser page = Browser.open();

  @AfterEach
  void quit() {
    page.close();
  }

  @Test
  @Timeout(value = 180, unit = TimeUnit.SECONDS)
  void whatMayExplainTheBuildUpIsShownSideBySideUntilTheExerciseIsOver() throws Exception {
    try (WatchProcess watch =
        WatchProcess.drill(data, "intact.csv.gz", "6000", "--open", "--http", "0").listening()) {
      page.get(watch.url("/"));
      page.waitFor(
          "five explanations", "return document.querySelectorAll('#candidates tr').length === 5");
      page.seen("[data-sheet=buildup]").click();
      assertThat(page.seen("#leads").getText()).contains("after the shut-in", "As of 2026-03-0");
      assertThat(page.seen("#verdict").getText())
          .contains(
              "By pressure and hydrophones together",
              "HY-1 heard ",
              "Look at seafloor and the facts");
      page.waitFor("plots", "return document.querySelectorAll('#plots canvas').length === 3");
      assertThat(page.seen("#candidates").getText())
          .contains("intact, as the facts say", "leak into rock", "nothing", "MPa");
      page.run("document.getElementById('review').scrollIntoView()");
      page.picture("review.png");
      theExerciseIsOverAndNoWatchIsBlind(watch);
    }
    assertThat(page.problems()).isEmpty();
  }

  private void theExerciseIsOverAndNoWatchIsBlind(WatchProcess watch) throws Exception {
    page.says("#sight", "EXERCISE OVER at 2026-03-04 05:59:59 UTC");
    watch.healthSays("\"watching\":false");
    page.size(420, 900);
    page.picture("narrow.png");
    assertThat(
            sight(
                "{state: {watching: false, blind: ['No reading has come for 63 s.']}, quietMs: 0}"))
        .isEqualTo(
            "blind: THE WATCH IS BLIND. No reading has come for 63 s. Everything below is old.");
    assertThat(sight("{state: null, quietMs: 0, openMs: 60000}"))
        .isEqualTo("cut: NO DATA FROM THE WATCH since this page was opened.");
  }

  /** What the page makes of what it has heard. */
  private Object sight(String heard) {
    return page.run(
        "const said = (await import('./sight.js')).judge("
            + heard
            + "); return said.which + ': ' + said.text;");
  }

  @Test
  void thePageOfAReplayShowsTheBuildUpAndItsExplanations() throws Exception {
    assertThat(
            Main.run(
                "replay",
                "--plan",
                WatchProcess.LARKSPUR.resolve("plan.yaml").toString(),
                "--out",
                data.toString(),
                WatchProcess.LARKSPUR.resolve("low-plateau.csv.gz").toString()))
        .isZero();
    page.get(data.resolve("low-plateau/page.html").toUri().toString());
    page.waitFor("plots", "return document.querySelectorAll('#buildup canvas').length >= 2");
    assertThat(page.seen("#leads").getText()).contains("extrapolates to 40.8");
    assertThat(page.driver().findElements(By.cssSelector("#candidates tbody tr"))).hasSize(5);
    assertThat(page.seen("#verdict").getText()).isNotEmpty();
    page.run("document.getElementById('buildup').scrollIntoView()");
    page.picture("replay-build-up.png");
    assertThat(page.problems()).isEmpty();
  }
}

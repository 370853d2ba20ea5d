package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** The operations-room page in a real browser, on a real watch in a process of its own. */
class PageTest {
  /** Whether the middle of an element is within the window, and nothing lies over it. */
  private static final String ON_TOP =
      """
      const e = document.getElementById(arguments[0]);
      const r = e.getBoundingClientRect();
      const at = document.elementFromPoint((r.left + r.right) / 2, (r.top + r.bottom) / 2);
      return r.height > 0 && at !== null && (e === at || e.contains(at) || at.contains(e));""";

  @TempDir Path data;

  private final Browser page = Browser.open();

  @AfterEach
  void quit() {
    page.close();
  }

  private WatchProcess drill(String recording, String speed, String... more)
      throws IOException, InterruptedException {
    List<String> options = new ArrayList<>(List.of("--demo", "--http", "0"));
    options.addAll(List.of(more));
    return WatchProcess.drill(data, recording, speed, options.toArray(String[]::new)).listening();
  }

  @Test
  @Timeout(value = 180, unit = TimeUnit.SECONDS)
  void anAlarmIsSeenAcknowledgedFromTheKeyboardAndALostWatchIsNotTakenForAQuietOne()
      throws Exception {
    try (WatchProcess watch = drill("leak.csv.gz", "1500")) {
      page.get(watch.url("/"));
      WebElement alarm = page.seen("#alarms > li[data-rule=sudden-drop]");
      page.waitFor("the page sees", "return document.body.dataset.sight === 'sees'");
      assertThat(alarm.getText())
          .contains(
              "HIGH", "Pressure falls suddenly", "The plan says", "sudden-drop", "Limits in force");
      page.waitFor(
          "the chart is drawn",
          """
          const c = document.querySelector('#chart canvas');
          const d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;
          let inked = 0;
          for (let i = 3; i < d.length; i += 4) inked += d[i] > 0 ? 1 : 0;
          return inked > 3000;""");
      assertThat(page.driver().findElements(By.cssSelector("#gauges tr"))).hasSize(7);
      assertThat(page.driver().findElement(By.id("cautions")).getText())
          .contains("operates no valve");
      page.picture("alarm.png");

      WebElement note = alarm.findElement(By.cssSelector("form.acknowledge input"));
      note.sendKeys("camera is on its way", Keys.ENTER);
      page.waitFor(
          "it is acknowledged",
          "return document.querySelector('#alarms > li[data-rule=sudden-drop]').dataset.asks === 'no'");
      assertThat(alarm.getText())
          .contains("Acknowledged by anybody on this machine: camera is on its way");
      assertThat(alarm.findElement(By.tagName("form")).isDisplayed()).isFalse();

      page.waitFor(
          "the chart has been drawn again",
          "return document.getElementById('mode').textContent.endsWith('over')");
      page.picture("acknowledged.png");
      watch.kill();
      page.waitFor(
          "the page says that the watch is gone", "return document.body.dataset.sight === 'cut'");
      assertThat(page.driver().findElement(By.id("sight")).getText())
          .contains("CONNECTION TO THE WATCH LOST");
      page.picture("lost.png");
    }
    assertThat(page.problems()).isEmpty();
  }

  @Test
  @Timeout(value = 180, unit = TimeUnit.SECONDS)
  void whenReadingsStopThePageSaysThatItIsBlind() throws Exception {
    try (WatchProcess watch = drill("leak.csv.gz", "60", "--from", "2026-03-08T14:11:00Z")) {
      page.get(watch.url("/"));
      page.waitFor("the page is blind", "return document.body.dataset.sight === 'blind'");
      page.waitFor(
          "it says why",
          "return document.getElementById('sight').textContent.includes('No reading has come for')");
      assertThat(watch.get("/health").path("watching").asBoolean()).isFalse();
      page.size(420, 900);
      page.picture("narrow.png");
    }
    assertThat(page.problems()).isEmpty();
  }

  @Test
  @Timeout(value = 180, unit = TimeUnit.SECONDS)
  void whatMayExplainTheBuildUpIsShownSideBySide() throws Exception {
    try (WatchProcess watch = drill("intact.csv.gz", "6000")) {
      page.get(watch.url("/"));
      page.waitFor(
          "five explanations", "return document.querySelectorAll('#candidates tr').length === 5");
      page.seen("[data-sheet=buildup]").click();
      assertThat(page.seen("#leads").getText()).contains("after the shut-in", "As of 2026-03-0");
      assertThat(page.seen("#verdict").getText())
          .contains("By pressure and sound", "HY-1 heard ", "Look at seafloor and the facts");
      page.waitFor("plots", "return document.querySelectorAll('#plots canvas').length === 3");
      assertThat(page.seen("#candidates").getText())
          .contains("intact, as the facts say", "leak into rock", "nothing", "MPa");
      page.run("document.getElementById('review').scrollIntoView()");
      page.picture("review.png");
    }
    assertThat(page.problems()).isEmpty();
  }

  /** Alarms change places and go while somebody types a note at one of them. */
  @Test
  @Timeout(value = 180, unit = TimeUnit.SECONDS)
  void whoTypesAtAnAlarmIsNotInterrupted() throws Exception {
    try (WatchProcess watch = drill("leak.csv.gz", "60", "--from", "2026-03-08T14:11:00Z")) {
      page.get(watch.url("/"));
      page.seen("#alarms > li");
      page.run(
          """
          const template = await fetch('api/state').then((r) => r.json());
          window.own = document.createElement('ol');
          own.id = 'own';
          document.body.prepend(own);
          const one = template.alarms[0];
          window.show = async (ids) => (await import('./alarms.js')).list(own, ids.split('').map((id) => ({...one, id, asks: true, state: 'unacknowledged'})));
          await show('abcd');""");
      WebElement note = page.seen("#own > li[data-id=b] form.acknowledge input");
      for (String order : List.of("dcba", "abcd", "cbad", "xbya", "acdx", "bdca")) {
        note.sendKeys(order.substring(0, 2));
        page.run("await show(arguments[0])", order);
        if (order.contains("b")) {
          assertThat(page.run("return [...own.children].map((l) => l.dataset.id).join('')"))
              .isEqualTo(order);
        }
        page.driver().switchTo().activeElement().sendKeys(order.substring(2));
      }
      assertThat(note.getDomProperty("value")).isEqualTo("dcbaabcdcbadxbyaacdxbdca");
    }
    assertThat(page.problems()).isEmpty();
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
    assertThat(page.seen("#leads").getText()).contains("it leads to 40.8");
    assertThat(page.driver().findElements(By.cssSelector("#candidates tbody tr"))).hasSize(5);
    assertThat(page.seen("#verdict").getText()).isNotEmpty();
    page.run("document.getElementById('buildup').scrollIntoView()");
    page.picture("replay-build-up.png");
    assertThat(page.problems()).isEmpty();
  }

  /** On a small screen, a laptop, a wall and a phone, at the foot of every sheet. */
  @Test
  void theHeadIsAlwaysVisibleAndCoversNothing() throws Exception {
    try (WatchProcess watch = drill("leak.csv.gz", "3000")) {
      page.get(watch.url("/"));
      page.seen("#alarms > li[data-rule=leak-evidence]");
      for (int[] size : new int[][] {{1280, 720}, {1440, 1050}, {3000, 1700}, {520, 900}}) {
        page.size(size[0], size[1]);
        for (String sheet : List.of("well", "evidence", "enter", "buildup", "shift", "figures")) {
          page.click("[data-sheet=" + sheet + "]");
          page.run(
              "document.querySelectorAll('*').forEach((e) => { e.scrollTop = e.scrollHeight; })");
          for (String id : List.of("phase", "shut-in", "hold-point", "age", "on-shift")) {
            assertThat(page.run(ON_TOP, id)).as("%s at %d, %s", id, size[0], sheet).isEqualTo(true);
          }
        }
        page.picture("size-" + size[0] + ".png");
      }
      assertThat(page.problems()).isEmpty();
    }
  }
}

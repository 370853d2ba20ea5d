package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** The page of a watch that alarms, in a real browser, until that watch is gone. */
@Timeout(180)
class AlarmPageTest extends PageOfOneWatch {
  /** Whether the middle of an element is within the window, and nothing lies over it. */
  private static final String ON_TOP =
      """
      const e = document.getElementById(arguments[0]);
      const r = e.getBoundingClientRect();
      const at = document.elementFromPoint((r.left + r.right) / 2, (r.top + r.bottom) / 2);
      return r.height > 0 && at !== null && (e === at || e.contains(at) || at.contains(e));""";

  AlarmPageTest() {
    super("200", "2026-03-08T11:40:00Z");
  }

  /** On a small screen and a phone, at the foot of every sheet. */
  @Test
  @Order(1)
  void theHeadIsAlwaysVisibleAndCoversNothing() throws Exception {
    page.waitFor("the page sees", "return document.body.dataset.sight === 'sees'");
    page.seen("#alarms > li[data-rule=leak-evidence]");
    for (int[] size : new int[][] {{1280, 720}, {520, 900}}) {
      page.size(size[0], size[1]);
      for (String sheet : SHEETS) {
        page.run("window.scrollTo(0, 0)");
        page.click("[data-sheet=" + sheet + "]");
        page.run(
            "document.querySelectorAll('*').forEach((e) => { e.scrollTop = e.scrollHeight; })");
        List<String> always =
            size[0] < 960
                ? List.of("sees", "age")
                : List.of("sees", "age", "pressure", "rate", "band", "shut-in", "hold-point");
        for (String id : always) {
          assertThat(page.run(ON_TOP, id)).as("%s at %d, %s", id, size[0], sheet).isEqualTo(true);
        }
      }
      page.picture("size-" + size[0] + ".png");
    }
    assertThat(page.problems()).isEmpty();
  }

  @Test
  @Order(2)
  void anAlarmIsSeenAcknowledgedFromTheKeyboardAndALostWatchIsNotTakenForAQuietOne()
      throws Exception {
    WebElement alarm = page.seen("#alarms > li[data-rule=sudden-drop]");
    page.waitFor(
        "the page is connected", "return ['sees', 'over'].includes(document.body.dataset.sight)");
    assertThat(alarm.getText())
        .contains("HIGH", "Pressure falls suddenly", "active since")
        .doesNotContain("Limits in force");
    alarm.findElement(By.cssSelector("details.row > summary")).click();
    assertThat(alarm.getText())
        .contains("Now: ", "At ", "The plan says", "rule sudden-drop", "Limits in force");
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
    assertThat(alarm.findElement(By.cssSelector("form.acknowledge")).isDisplayed()).isFalse();

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
    assertThat(page.problems()).isEmpty();
  }
}

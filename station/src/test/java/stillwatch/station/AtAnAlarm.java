package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** What somebody finds on the page who is called to an alarm, on any screen. */
interface AtAnAlarm {
  /** Whether the middle of an element is within the window, and nothing lies over it. */
  String ON_TOP =
      """
      const e = document.getElementById(arguments[0]);
      const r = e.getBoundingClientRect();
      const at = document.elementFromPoint((r.left + r.right) / 2, (r.top + r.bottom) / 2);
      return r.height > 0 && at !== null && (e === at || e.contains(at) || at.contains(e));""";

  /** On a small screen and a phone, at the foot of every sheet. */
  @Test
  @Order(11)
  default void theHeadIsAlwaysVisibleAndCoversNothing() throws Exception {
    page().waitFor("the page sees", "return document.body.dataset.sight === 'sees'");
    page().seen("#alarms > li[data-rule=leak-evidence]");
    for (int[] size : new int[][] {{1280, 720}, {520, 900}}) {
      page().size(size[0], size[1]);
      for (String sheet : PageOfOneWatch.SHEETS) {
        page().run("window.scrollTo(0, 0)");
        page().click("[data-sheet=" + sheet + "]");
        page()
            .run(
                "document.querySelectorAll('*').forEach((e) => { e.scrollTop = e.scrollHeight; })");
        List<String> always =
            size[0] < 960
                ? List.of("sees", "age")
                : List.of("sees", "age", "pressure", "rate", "band", "shut-in", "hold-point");
        for (String id : always) {
          assertThat(page().run(ON_TOP, id)).as("%s at %d, %s", id, size[0], sheet).isEqualTo(true);
        }
      }
      page().picture("size-" + size[0] + ".png");
    }
    assertThat(page().problems()).isEmpty();
  }

  @Test
  @Order(12)
  default void anAlarmIsReadAndAcknowledged() throws Exception {
    String lost = "#alarms > li[data-rule=loss-unexplained]";
    WebElement alarm = page().seen(lost);
    assertThat(alarm.getText()).contains("HIGH", "active since").doesNotContain("Limits in force");
    alarm.findElement(By.cssSelector("details.row > summary")).click();
    assertThat(alarm.getText())
        .contains("Now: ", "At ", "Advice: ", "rule loss-unexplained", "Limits in force");
    page()
        .waitFor(
            "the chart is drawn",
            """
        const c = document.querySelector('#chart canvas');
        const d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;
        let inked = 0;
        for (let i = 3; i < d.length; i += 4) inked += d[i] > 0 ? 1 : 0;
        return inked > 3000;""");
    assertThat(page().driver().findElements(By.cssSelector("#gauges tr"))).hasSize(7);
    assertThat(page().driver().findElement(By.id("cautions")).getText())
        .contains("operates no valve");
    page().picture("alarm.png");

    WebElement note = alarm.findElement(By.cssSelector("form.acknowledge input"));
    note.sendKeys("camera is on its way", Keys.ENTER);
    page()
        .waitFor(
            "it is acknowledged",
            "return document.querySelector('" + lost + "').dataset.asks === 'no'");
    assertThat(alarm.getText())
        .contains("Acknowledged by anybody on this machine: camera is on its way");
    assertThat(alarm.findElement(By.cssSelector("form.acknowledge")).isDisplayed()).isFalse();
    page().picture("acknowledged.png");
    assertThat(page().problems()).isEmpty();
  }

  /** Alarms change places and go while somebody types a note at one of them. */
  @Test
  @Order(13)
  default void whoTypesAtAnAlarmIsNotInterrupted() throws Exception {
    page().seen("#alarms > li");
    page()
        .run(
            """
        const template = await fetch('api/state').then((r) => r.json());
        window.own = document.createElement('ol');
        own.id = 'own';
        document.body.prepend(own);
        const one = template.alarms[0];
        window.show = async (ids) => (await import('./alarms.js')).list(own, ids.split('').map((id) => ({...one, id, asks: true, state: 'unacknowledged'})));
        await show('abcd');
        own.querySelectorAll('details.row').forEach((d) => { d.open = true; });""");
    WebElement note = page().seen("#own > li[data-id=b] form.acknowledge input");
    for (String order : List.of("dcba", "abcd", "cbad", "xbya", "acdx", "bdca")) {
      note.sendKeys(order.substring(0, 2));
      page().run("await show(arguments[0])", order);
      if (order.contains("b")) {
        assertThat(page().run("return [...own.children].map((l) => l.dataset.id).join('')"))
            .isEqualTo(order);
      }
      page().driver().switchTo().activeElement().sendKeys(order.substring(2));
    }
    assertThat(note.getDomProperty("value")).isEqualTo("dcbaabcdcbadxbyaacdxbdca");
    assertThat(page().problems()).isEmpty();
  }

  Browser page();
}

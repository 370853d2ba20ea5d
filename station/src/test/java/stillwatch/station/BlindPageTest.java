package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.openqa.selenium.WebElement;

/** The page in the last minutes of a recording, and when no reading comes any more. */
@Timeout(180)
class BlindPageTest extends PageOfOneWatch {
  BlindPageTest() {
    super("60", "2026-03-08T14:11:00Z");
  }

  /** Alarms change places and go while somebody types a note at one of them. */
  @Test
  @Order(1)
  void whoTypesAtAnAlarmIsNotInterrupted() throws Exception {
    page.seen("#alarms > li");
    page.run(
        """
        const template = await fetch('api/state').then((r) => r.json());
        window.own = document.createElement('ol');
        own.id = 'own';
        document.body.prepend(own);
        const one = template.alarms[0];
        window.show = async (ids) => (await import('./alarms.js')).list(own, ids.split('').map((id) => ({...one, id, asks: true, state: 'unacknowledged'})));
        await show('abcd');
        own.querySelectorAll('details.row').forEach((d) => { d.open = true; });""");
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
    assertThat(page.problems()).isEmpty();
  }

  @Test
  @Order(2)
  void whenTheRecordingHasEndedTheExerciseIsOverAndNoWatchThatIsBlind() throws Exception {
    page.waitFor("the exercise is over", "return document.body.dataset.sight === 'over'");
    page.says("#sight", "EXERCISE OVER at 2026-03-08 14:11:59 UTC");
    assertThat(watch.get("/health").path("watching").asBoolean()).isFalse();
    page.size(420, 900);
    page.picture("narrow.png");
    assertThat(
            sight(
                "{state: {watching: false, blind: ['No reading has come for 63 s.']}, quietMs: 0}"))
        .isEqualTo(
            "blind: THE WATCH IS BLIND. No reading has come for 63 s. Everything below is old.");
    assertThat(sight("{state: null, quietMs: 0, openMs: 60000}"))
        .isEqualTo("cut: NO DATA FROM THE WATCH since this page was opened.");
    assertThat(page.problems()).isEmpty();
  }

  /** What the page makes of what it has heard. */
  private Object sight(String heard) {
    return page.run(
        "const said = (await import('./sight.js')).judge("
            + heard
            + "); return said.which + ': ' + said.text;");
  }
}

package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/**
 * One glance a question: can it see, what is the pressure, where does it go, what does that mean,
 * how long still, what do the other senses say, what is unacknowledged. Each answer stands in the
 * first viewport, uncovered and uncut, and is what the log says. The exercise runs no faster than
 * life, so that what is read and what is shown are of the same minute.
 */
@Timeout(180)
class GlancePageTest extends PageOfOneWatch implements AtAnAlarm, ForEverybody {
  /** What is wrong with how an element is placed; empty when nothing is. */
  private static final String PLACED =
      """
      const [e, wide, high] = [document.querySelector(arguments[0]), arguments[1], arguments[2]];
      const r = e.getBoundingClientRect();
      if (r.width === 0 || r.height === 0) return 'is not shown';
      if (r.top < 0 || r.left < 0 || r.right > wide || r.bottom > high) return `lies outside: ${JSON.stringify(r)}`;
      if (e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0) return 'is cut off';
      const at = document.elementFromPoint((r.left + r.right) / 2, (r.top + r.bottom) / 2);
      return e === at || e.contains(at) || at?.contains(e) ? '' : `is covered by ${at?.outerHTML}`;""";

  /** Whether every answer is what the state says of it. */
  private static final String ANSWERS =
      """
      return fetch('api/state').then((r) => r.json()).then((s) => [{
          value: document.querySelector('#pressure').textContent,
          unit: document.querySelector('#pressure-unit').textContent,
          rate: document.querySelector('#rate').textContent.replace(/^[▲▼] /, ''),
          band: document.querySelector('#band').textContent,
          expected: document.querySelector('#expected-text').textContent,
          high: document.querySelector('#counts [data-priority=high]').textContent,
          sees: document.querySelector('#sees').textContent,
        }, {
          value: s.live.value_text, unit: s.live.unit, rate: `${s.live.rate_text} ${s.live.unit}/h`, band: s.live.band_text,
          expected: `expected ${s.live.expected.toFixed(2)} ${s.live.unit} ◇`,
          high: `▲ HIGH ${s.alarms.flatMap((a) => [a, ...a.behind]).filter((a) => a.asks && a.priority === 'high').length}`,
          sees: 'WATCHING',
        }].map((a) => JSON.stringify(a))).then(([shown, said]) => shown === said);""";

  private static final List<String> GLANCE =
      List.of(
          "#sees",
          "#counts [data-priority=high]",
          "#pressure",
          "#pressure-unit",
          "#rate",
          "#band",
          "#shut-in",
          "#hold-point",
          "#test-end",
          "#low-clock");

  private static final List<String> DESK =
      List.of("#trail", "#here", "#edge-leak", "#zone-intact span", "#alarms > li .title");

  GlancePageTest() {
    super("1", "2026-03-08T12:40:00Z");
  }

  private void placed(List<String> all, int wide, int high, String where) {
    for (String css : all) {
      assertThat(page.run(PLACED, css, wide, high)).as("%s, %s", css, where).isEqualTo("");
    }
  }

  private void sees() {
    page.waitFor("the page sees", "return document.body.dataset.sight === 'sees'");
    page.seen("#alarms > li[data-priority=high]");
    page.waitFor(
        "the rate is known", "return document.querySelector('#rate').textContent.includes('/h')");
  }

  @Test
  @Order(1)
  void everyAnswerStandsInTheFirstViewportOfDeskWallAndPhone() throws Exception {
    sees();
    for (int[] size : new int[][] {{1280, 720}, {1920, 1080}, {3840, 2160}, {390, 844}}) {
      page.screen(size[0], size[1], 1);
      for (String scheme : List.of("light", "dark")) {
        page.scheme(scheme);
        String where = size[0] + " by " + size[1] + ", " + scheme;
        placed(GLANCE, size[0], size[1], where);
        placed(DESK, size[0], size[1], where);
        placed(List.of("#senses > li:nth-child(5)"), size[0], size[1], where);
        page.picture("glance-" + size[0] + "-" + scheme + ".png");
      }
    }
  }

  @Test
  @Order(2)
  void everyAnswerIsWhatTheLogSays() {
    sees();
    page.waitFor( // the state and the page are of different seconds, now and then
        "what is shown is what is said", ANSWERS);
    page.says("#pressure-unit", "MPa");
    page.says("#sees", "WATCHING");
  }

  /** At least eight hundredths of its height; nothing smaller than a fiftieth of it but a mark. */
  @Test
  @Order(3)
  void theWallIsReadFromFourMetres() throws Exception {
    page.screen(1920, 1080, 1);
    page.get(watch.url("/#wall"));
    page.run("location.reload()");
    sees();
    placed(GLANCE, 1920, 1080, "wall");
    placed(
        List.of("#trail", "#zone-intact span", "#chart", "#alarms > li:nth-child(3) .title"),
        1920,
        1080,
        "wall");
    Number figure =
        (Number)
            page.run(
                "return parseFloat(getComputedStyle(document.querySelector('#pressure')).fontSize)");
    assertThat(figure.doubleValue()).isGreaterThanOrEqualTo(0.08 * 1080);
    assertThat(
            page.run(
                """
                const small = [];
                const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
                while (walk.nextNode()) {
                  const e = walk.currentNode.parentElement;
                  if (!walk.currentNode.textContent.trim() || !e.checkVisibility() || e.closest('.unseen, .skip')) continue;
                  const px = parseFloat(getComputedStyle(e).fontSize);
                  if (px < innerHeight / 54) small.push(`${px} px: ${e.id || e.className} ${e.textContent.slice(0, 30)}`);
                }
                return small;"""))
        .isEqualTo(List.of());
    assertThat(
            page.run(
                "return [...document.querySelectorAll('button, input, select')].filter((e) => e.checkVisibility() && !e.classList.contains('mark')).map((e) => e.textContent)"))
        .as("no controls")
        .isEqualTo(List.of());
    page.picture("wall.png");
  }

  private long marks(String lane) {
    return (Long)
        page.run(
            "return [...document.querySelectorAll('#lanes .lane')].find((l) => l.textContent.startsWith(arguments[0])).querySelectorAll('.mark').length",
            lane);
  }

  @Test
  @Order(4)
  void aZoomStaysWhileDataArriveAndItsAddressShowsTheSameToAColleague() throws Exception {
    sees();
    page.waitFor("lanes", "return document.querySelectorAll('#lanes .mark').length > 5");
    assertThat(marks("operations")).isGreaterThan(3);
    page.run(
        """
        const f = document.querySelector('#stretch');
        f.elements.from.value = '2026-03-08 11:20';
        f.elements.to.value = '2026-03-08 12:20';
        f.requestSubmit();""");
    page.waitFor(
        "zoomed",
        "return location.hash.startsWith('#from=2026-03-08T11:20:00Z&to=2026-03-08T12:20:00Z')");
    page.waitFor(
        "no operation lies in that hour",
        "return [...document.querySelectorAll('#lanes .lane')].find((l) => l.textContent.startsWith('operations')).querySelectorAll('.mark').length === 0");
    assertThat(marks("alarms")).isGreaterThan(0);
    String log = String.valueOf(page.run("return document.querySelector('#log').textContent"));
    page.run("window.log = arguments[0]", log);
    page.waitFor(
        "three states later",
        "return (window.logs ??= new Set()).add(document.querySelector('#log').textContent).size > 3");
    assertThat(marks("operations")).as("the zoom has stayed").isZero();
    assertThat(page.run("return document.querySelector('#live').getAttribute('aria-pressed')"))
        .isEqualTo("false");
    page.picture("zoomed.png");

    String address = page.driver().getCurrentUrl();
    page.get("about:blank");
    page.get(address);
    sees();
    page.waitFor("lanes", "return document.querySelectorAll('#lanes .mark').length > 0");
    assertThat(marks("operations")).as("as the address says").isZero();
    page.click("#live");
    page.waitFor(
        "it follows again",
        "return location.hash === '' && document.querySelectorAll('#lanes .mark').length > 5");
    assertThat(page.problems()).isEmpty();
  }

  @Test
  @Order(5)
  void aMarkInTheLaneTellsItsAlarmAndGoesToIt() {
    sees();
    page.waitFor(
        "lanes", "return document.querySelectorAll('#lanes .mark[data-priority=high]').length > 0");
    page.run("document.querySelector('#lanes .mark[data-priority=high]').click()");
    page.says("#readout", "HIGH ");
    page.waitFor(
        "it is open",
        "return document.querySelector('#alarms > li[data-priority=high] details.row[open]') !== null");
  }

  /** A filtered list must not be taken for the whole. */
  @Test
  @Order(6)
  void aFilterSaysWhatItHides() {
    sees();
    page.run(
        """
        const f = document.querySelector('#filter');
        f.elements.words.value = 'adverse';
        f.dispatchEvent(new Event('input', {bubbles: true}));""");
    page.says("#alarms", "Adverse observation");
    page.waitFor(
        "others are hidden",
        "return [...document.querySelectorAll('#alarms > li')].filter((l) => l.checkVisibility()).length === 1");
    page.says("#hidden-alarms", "of them unacknowledged");
    page.click("#unfilter");
    page.waitFor(
        "all are back",
        "return [...document.querySelectorAll('#alarms > li')].filter((l) => l.checkVisibility()).length > 2");
  }

  /**
   * What speaks for and against each cause stands in the row of an alarm that is about a change.
   */
  @Test
  @Order(7)
  void anAlarmOfAChangeShowsWhatMayExplainIt() {
    sees();
    page.click("#alarms > li[data-rule=loss-unexplained] details.row > summary");
    page.says(
        "#alarms > li[data-rule=loss-unexplained] .hypotheses",
        "no operation is logged near that time");
    page.says("#alarms > li[data-rule=loss-unexplained] .live", "Now: ");
  }

  /** A sheet of A4 is 794 CSS pixels wide. */
  @Test
  @Order(8)
  void noSheetIsCutOffOnPaper() {
    sees();
    page.screen(794, 1123, 1);
    page.driver().executeCdpCommand("Emulation.setEmulatedMedia", Map.of("media", "print"));
    assertThat(page.run("return document.querySelector('nav').checkVisibility()"))
        .as("no controls on paper")
        .isEqualTo(false);
    for (String sheet : SHEETS) {
      page.run("document.querySelector('[data-sheet=" + sheet + "]').click()");
      assertThat(
              page.run(
                  """
                  const cut = [...document.querySelectorAll('body *')].filter((e) => e.checkVisibility())
                    .filter((e) => ['auto', 'scroll', 'hidden'].includes(getComputedStyle(e).overflowY) && e.scrollHeight > e.clientHeight + 2 && !e.closest('.u-wrap, .unseen'));
                  return [...cut.map((e) => e.id || e.className), ...(document.documentElement.scrollWidth > 794 ? ['too wide'] : [])];"""))
          .as(sheet)
          .isEqualTo(List.of());
    }
  }

  /** What the chart says at its middle, where somebody points there. */
  private static final String READ =
      """
      const over = document.querySelector('#chart .u-over');
      if (!over) return ''; // the page has only just been opened
      const r = over.getBoundingClientRect();
      for (const kind of ['mouseenter', 'mousemove']) {
        over.dispatchEvent(new MouseEvent(kind, {bubbles: true, clientX: r.left + r.width / 2, clientY: r.top + r.height / 2}));
      }
      return document.querySelector('#readout').textContent;""";

  private static final Pattern READING =
      Pattern.compile("2026-03-08 (\\d\\d):(\\d\\d):\\d\\d (\\S+): PT-1 ([0-9.]+) (\\S+),.*");

  private Matcher reading(String zone) {
    page.waitFor(
        "the chart is read in " + zone,
        "return (() => {" + READ + "})().includes(' " + zone + ": PT-1 4')");
    Matcher m = READING.matcher(String.valueOf(page.run(READ)));
    assertThat(m.matches()).isTrue();
    return m;
  }

  /** Unit and time zone are each person's own, for the charts alone, and always named. */
  @Test
  @Order(9)
  void chartsAreInTheUnitAndTheTimeZoneThatSomebodyChooses() throws Exception {
    page.get(watch.url("/#from=2026-03-08T11:20:00Z&to=2026-03-08T12:20:00Z"));
    page.run("location.reload()");
    sees();
    Matcher before = reading("UTC");
    page.click("#settings > summary");
    page.run(
        """
        for (const [id, value] of [['chart-unit', 'bar'], ['chart-zone', 'Atlantic/Azores']]) {
          const select = document.getElementById(id);
          select.value = value;
          select.dispatchEvent(new Event('change'));
        }""");
    Matcher after = reading("Atlantic/Azores");
    assertThat(List.of(before.group(5), after.group(5))).containsExactly("MPa", "bar");
    assertThat(Double.parseDouble(after.group(4)))
        .isCloseTo(10 * Double.parseDouble(before.group(4)), within(0.2));
    assertThat(Integer.parseInt(after.group(1)))
        .as("an hour behind UTC in winter")
        .isEqualTo(Integer.parseInt(before.group(1)) - 1);
    assertThat(after.group(2)).isEqualTo(before.group(2));
    page.says("#pressure-unit", "MPa");
    page.says("#log", "UTC");
    page.says("#stretch-zone", "Atlantic/Azores");
    page.picture("chosen.png");
    page.run(
        """
        const f = document.querySelector('#stretch');
        f.elements.from.value = '2026-03-08 11:00';
        f.elements.to.value = '2026-03-08 11:30';
        f.requestSubmit();""");
    page.waitFor(
        "what is typed is in that zone",
        "return location.hash.startsWith('#from=2026-03-08T12:00:00Z&to=2026-03-08T12:30:00Z')");
    page.run(
        """
        const f = document.querySelector('#stretch');
        f.elements.from.value = 'noon';
        f.requestSubmit();""");
    page.says("#stretch output", "Type two times, the earlier first");
    page.run("location.reload()");
    assertThat(reading("Atlantic/Azores").group(5)).as("it is kept").isEqualTo("bar");
    page.run("localStorage.removeItem('unit'); localStorage.removeItem('zone')");
    assertThat(page.problems()).isEmpty();
  }
}

package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.ServerSocket;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.StaleElementReferenceException;

/** A shift in the room: people, a browser, the leak drill at sixty times life. */
@Timeout(400)
class RoomPageTest {
  private static final Pattern LINK = Pattern.compile("(#enter=[A-Za-z0-9_-]+)");

  @TempDir Path data;
  private final Browser page = Browser.open();

  @AfterEach
  void close() {
    page.close();
  }

  /** The leak drill at sixty times life, from shortly before the leak opens. */
  private WatchProcess leak(int port, String... more) throws Exception {
    List<String> options = new ArrayList<>(List.of("--from", "2026-03-08T11:44:00Z"));
    options.addAll(List.of("--http", Integer.toString(port)));
    options.addAll(List.of(more));
    return WatchProcess.drill(data, "leak.csv.gz", "60", options.toArray(String[]::new))
        .listening();
  }

  @Test
  void aShiftFromTheFirstLinkToTheHandOver() throws Exception {
    try (WatchProcess watch = leak(0)) {
      page.get(watch.url("/"));
      page.says("#door", "open the link that the watch printed");
      page.get(watch.url("/") + watch.says(LINK));
      page.run("location.reload()");
      page.says("#door", "password of ten characters");
      page.type("#entry", "name", "Ada Berg");
      page.type("#entry", "password", "correct horse 12" + Keys.ENTER);
      page.says("#me", "Ada Berg, may administer");
      assertThat(page.run("return location.hash")).isEqualTo("");

      page.seen("#alarms > li[data-rule=sudden-drop]");
      page.says("#exercise", "EXERCISE");
      page.says("#shut-in", "h");
      page.says("#hold-point", "in ");
      shelveAnAlarm();
      page.click("[data-sheet=evidence]");
      page.says("#evidence-rows tr[data-supports=leak]", "pressure: course");
      page.says("#evidence-rows", "seen by camera");
      page.picture("evidence.png");
      decide();
      logBook();
      page.click("[data-sheet=figures]");
      page.says("#figure-rows", "Most in any ten minutes");
      handOver(watch);
      String link = page.seen("#invite output").getText().replaceFirst("^\\S+/(\\S+) .*", "$1");
      theShelvedOneComesBack();
      accept(watch.url("/") + link);
      assertThat(page.problems()).isEmpty();
    }
  }

  private void shelveAnAlarm() throws Exception {
    String alarm = "#alarms > li[data-rule=sudden-drop]";
    page.click(alarm + " details.row > summary");
    page.click(alarm + " details.evidence > summary");
    page.waitFor(
        "its trail is drawn",
        "return document.querySelector('" + alarm + " .trail canvas') !== null");
    page.says(alarm + " .trail", "limit: 0.03 MPa under a minute before");
    page.says(alarm + " .trail", "MPa");
    page.run("document.querySelector('" + alarm + " .trail').scrollIntoView({block: 'center'})");
    page.picture("trail.png");
    String lasting = "#alarms > li[data-rule=loss-unexplained]"; // the fall itself ends
    page.click(lasting + " details.row > summary");
    page.click(lasting + " details.evidence > summary");
    try {
      shelve(lasting);
    } catch (
        StaleElementReferenceException e) { // it has outgrown its alarm: a new row stands there
      page.run("document.querySelector('" + lasting + " details.row').open = true");
      page.run("document.querySelector('" + lasting + " details.evidence').open = true");
      shelve(lasting);
    }
    page.waitFor( // two when the fall has outgrown its first alarm by then: both are of one point
        "it is held",
        "return Number.parseInt(document.querySelector('#held-count').textContent) >= 1");
    page.click("#held-part > summary");
    page.says("#holds", "shelved by Ada Berg");
    page.waitFor("it asks no more", "return document.querySelector(\"" + lasting + "\") === null");
  }

  /** For a minute, in the form that is typed in: beside it may stand the row of a new alarm. */
  private void shelve(String alarm) {
    page.type(alarm + " form.shelve", "reason", "the pump is being tested");
    page.run(
        "const form = document.activeElement.form; form.elements.minutes.value = '1'; form.requestSubmit()");
  }

  private void decide() throws Exception {
    page.click("#decision [value=continue]");
    page.type("#decision", "by", "the deciders");
    page.type("#decision", "why", "more passes are wanted first");
    page.type("#decision", "hours", "2.5" + Keys.ENTER);
    page.says("#last-look", "keep it shut, go on watching");
    page.says("#last-look", "supports a leak: ");
    page.says("#last-look", "Open: ");
    page.picture("last-look.png");
    page.click("#last-look [value=yes]");
    page.says("#decision output", "of the record");
    page.says("#decisions", "continue, by the deciders: more passes are wanted first");
    page.says("#hold-point", "in 2 h");
  }

  private void logBook() throws Exception {
    page.click("[data-sheet=enter]");
    page.type("#observation", "means", "camera");
    page.run("document.querySelector('#observation [name=result]').value = 'adverse'");
    page.type("#observation", "text", "bubbles at the wellhead" + Keys.ENTER);
    page.says("#observation output", "It is in the log.");
    page.seen("#alarms > li[data-rule=sighting]");
    page.type("#operation", "text", "supply vessel alongside");
    page.run("document.querySelector('#operation [name=what]').value = 'vessel'");
    page.click("#operation button");
    page.says("#operation output", "It is in the log.");
    page.says("#near", "supply vessel alongside, for ");
    page.run(
        "const what = document.querySelector('#operation [name=what]');"
            + " what.value = 'gauge-zeroed'; what.dispatchEvent(new Event('change'))");
    page.run("document.querySelector('#operation [name=gauge]').value = 'PT-2'");
    page.type("#operation", "text", "zeroed at the surface");
    page.click("#operation button");
    page.says("#operation output", "It is in the log.");
    page.type("#note", "text", "weather rising");
    page.click("#note button");
    page.says("#note output", "It is in the record.");
    page.picture("log-book.png");
  }

  private void handOver(WatchProcess watch) throws Exception {
    page.click("[data-sheet=shift]");
    page.says("#told", "weather rising");
    page.says("#told", "supply vessel alongside");
    page.says("#told", "gauge-zeroed PT-2: zeroed at the surface");
    page.says("#told", "continue, by the deciders");
    page.picture("shift.png");
    page.type("#handover", "to", "Bo Lind");
    page.type("#handover", "text", "camera again at six");
    page.click("#handover button");
    page.says("#handover output", "Proposed to Bo Lind, who must accept it.");
    page.says("#on-shift", "not set, hand-over to Bo Lind not accepted yet");
    page.says("#proposed", "Ada Berg proposed at 2026-03-08");
    assertThat(page.driver().findElement(By.id("accept")).isDisplayed())
        .as("nobody accepts for another")
        .isFalse();
    page.click("#told button[aria-label^='Correct entry']");
    page.type("#correction", "text", "it was the survey vessel");
    page.click("#correction button");
    page.says("#correction output", "It is in the record.");
    page.says("#told", "corrects entry ");
    page.run("document.querySelector('#find-entry').value = 'survey'");
    page.run("document.querySelector('#find-entry').dispatchEvent(new Event('input'))");
    page.waitFor(
        "the others are hidden",
        "return [...document.querySelectorAll('#told tr')].filter((t) => !t.hidden).length === 1");
    page.run("document.querySelector('#find-entry').value = ''");
    page.run("document.querySelector('#find-entry').dispatchEvent(new Event('input'))");
    assertThat(page.run("return document.querySelector('#told td:nth-child(2)').textContent"))
        .as("an exercise keeps the time of its log")
        .asString()
        .startsWith("2026-03-08 ");
    String hash =
        page.seen("#plan").getText().replaceFirst(".*Record ends with hash (\\w+)\\..*", "$1");
    page.type("#sign", "hash", hash);
    page.type("#sign", "text", "read and agreed");
    page.click("#sign button");
    page.says("#sign output", "Signed: entry ");
    page.says("#told", "the report, over entries 1 to ");
    page.get(watch.url("/api/report"));
    page.says("body", "Signed by");
    page.says("body", "read and agreed");
    page.says("body", hash);
    page.driver().navigate().back();
    page.says("#me", "Ada Berg");
    page.click("[data-sheet=shift]");
    page.run("document.querySelector('#invite [name=role]').value = 'operate'");
    page.click("#invite button");
    page.says("#invite output", "/#enter=");
  }

  /** Bo enters by his link and accepts; the list begins anew, and the shift before is kept. */
  private void accept(String link) throws Exception {
    page.click("#leave");
    page.says("#door", "Name and password");
    page.get(link);
    page.run("location.reload()");
    page.says("#door", "password of ten characters");
    page.type("#entry", "name", "Bo Lind");
    page.type("#entry", "password", "correct horse 13" + Keys.ENTER);
    page.says("#me", "Bo Lind, may operate");
    page.click("[data-sheet=shift]");
    page.click("#accept button");
    page.waitFor(
        "he is on shift", "return document.querySelector('#on-shift').textContent === 'Bo Lind'");
    page.says("#shift-head", "Bo Lind took over from Ada Berg at 2026-03-08");
    page.says("#shift-head", "camera again at six");
    page.run("document.querySelector('#shift details').open = true");
    page.says("#told-before", "weather rising");
  }

  private void theShelvedOneComesBack() {
    page.waitFor(
        "a minute later it asks again",
        "return document.querySelector('#alarms > li[data-rule=loss-unexplained]') !== null");
    page.says("#held-count", "0");
  }

  @Test
  void aPageThatStaysOpenFindsTheWatchAgainAfterItStartedAnew() throws Exception {
    int port;
    try (ServerSocket free = new ServerSocket(0)) {
      port = free.getLocalPort();
    }
    try (WatchProcess watch = leak(port, "--open")) {
      page.get(watch.url("/"));
      page.waitFor("the page sees", "return document.body.dataset.sight === 'sees'");
      page.run("window.same = true");
      watch.kill();
      page.waitFor("cut", "return document.body.dataset.sight === 'cut'");
      page.says("#sight", "CONNECTION TO THE WATCH LOST");
    }
    try (WatchProcess watch = leak(port, "--open")) {
      page.waitFor("it sees again", "return document.body.dataset.sight === 'sees'");
      watch.healthSays("\"watching\":true");
    }
  }
}

package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Dimension;
import org.openqa.selenium.JavascriptExecutor;
import org.openqa.selenium.Keys;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.support.ui.WebDriverWait;

/** The operations-room page in a real browser, on a real watch in a process of its own. */
class PageTest {
  @TempDir Path data;

  private ChromeDriver browser =
      new ChromeDriver(
          new ChromeDriverService.Builder()
              .usingDriverExecutable(Path.of("/usr/bin/chromedriver").toFile())
              .build(),
          options());

  private static ChromeOptions options() {
    ChromeOptions options = new ChromeOptions();
    options.setBinary("/usr/bin/chromium");
    options.addArguments(
        "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage");
    return options;
  }

  @BeforeEach
  void size() {
    browser.manage().window().setSize(new Dimension(1440, 1050));
  }

  @AfterEach
  void quit() {
    browser.quit();
  }

  private WatchProcess leakDrill(String speed) throws IOException, InterruptedException {
    return drill("leak.csv.gz", speed);
  }

  private WatchProcess drill(String recording, String speed)
      throws IOException, InterruptedException {
    return WatchProcess.start(
            "watch",
            "--open",
            "--plan",
            WatchProcess.LARKSPUR.resolve("plan.yaml").toString(),
            "--drill",
            WatchProcess.LARKSPUR.resolve(recording).toString(),
            "--speed",
            speed,
            "--data",
            data.toString(),
            "--http",
            "0")
        .listening();
  }

  private WebElement seen(String css) {
    return new WebDriverWait(browser, Duration.ofSeconds(60))
        .until(b -> b.findElements(By.cssSelector(css)).stream().findFirst().orElse(null));
  }

  private void waitFor(String what, String script) {
    new WebDriverWait(browser, Duration.ofSeconds(60))
        .withMessage(what)
        .until(b -> Boolean.TRUE.equals(((JavascriptExecutor) b).executeScript(script)));
  }

  private void picture(String name) throws IOException {
    Files.createDirectories(Path.of("target/pictures"));
    Files.write(Path.of("target/pictures", name), browser.getScreenshotAs(OutputType.BYTES));
  }

  @Test
  @Timeout(value = 180, unit = TimeUnit.SECONDS)
  void anAlarmIsSeenAcknowledgedFromTheKeyboardAndALostWatchIsNotTakenForAQuietOne()
      throws Exception {
    try (WatchProcess watch = leakDrill("1500")) {
      browser.get(watch.url("/"));
      WebElement alarm = seen("#alarms > li[data-rule=sudden-drop]");
      waitFor("the page sees", "return document.body.dataset.sight === 'sees'");
      assertThat(alarm.getText())
          .contains(
              "HIGH", "Pressure falls suddenly", "The plan says", "sudden-drop", "Limits in force");
      waitFor(
          "the chart is drawn",
          """
          const c = document.querySelector('#chart canvas');
          const d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;
          let inked = 0;
          for (let i = 3; i < d.length; i += 4) inked += d[i] > 0 ? 1 : 0;
          return inked > 3000;""");
      assertThat(browser.findElements(By.cssSelector("#gauges tr"))).hasSize(7);
      assertThat(browser.findElement(By.id("cautions")).getText()).contains("operates no valve");
      picture("alarm.png");

      WebElement note = alarm.findElement(By.cssSelector("form.acknowledge input"));
      note.sendKeys("camera is on its way", Keys.ENTER);
      waitFor(
          "it is acknowledged",
          "return document.querySelector('#alarms > li[data-rule=sudden-drop]').dataset.asks === 'no'");
      assertThat(alarm.getText())
          .contains("Acknowledged by anybody on this machine: camera is on its way");
      assertThat(alarm.findElement(By.tagName("form")).isDisplayed()).isFalse();

      waitFor(
          "the chart has been drawn again",
          "return document.getElementById('mode').textContent.endsWith('over')");
      picture("acknowledged.png");
      watch.kill();
      waitFor(
          "the page says that the watch is gone", "return document.body.dataset.sight === 'cut'");
      assertThat(browser.findElement(By.id("sight")).getText())
          .contains("CONNECTION TO THE WATCH LOST");
      picture("lost.png");
    }
    assertThat(problems()).isEmpty();
  }

  @Test
  @Timeout(value = 180, unit = TimeUnit.SECONDS)
  void whenReadingsStopThePageSaysThatItIsBlind() throws Exception {
    try (WatchProcess watch = leakDrill("36000")) {
      browser.get(watch.url("/"));
      waitFor("the page is blind", "return document.body.dataset.sight === 'blind'");
      waitFor(
          "it says why",
          "return document.getElementById('sight').textContent.includes('No reading has come for')");
      assertThat(watch.get("/health").path("watching").asBoolean()).isFalse();
      browser.manage().window().setSize(new Dimension(420, 900));
      picture("narrow.png");
    }
    assertThat(problems()).isEmpty();
  }

  @Test
  @Timeout(value = 180, unit = TimeUnit.SECONDS)
  void whatMayExplainTheBuildUpIsShownSideBySide() throws Exception {
    try (WatchProcess watch = drill("intact.csv.gz", "6000")) {
      browser.get(watch.url("/"));
      waitFor(
          "five explanations", "return document.querySelectorAll('#candidates tr').length === 5");
      seen("[data-sheet=buildup]").click();
      assertThat(seen("#leads").getText()).contains("after the shut-in", "As of 2026-03-0");
      assertThat(seen("#verdict").getText())
          .contains("By pressure and sound", "HY-1 heard ", "Look at seafloor and the facts");
      waitFor("plots", "return document.querySelectorAll('#plots canvas').length === 3");
      assertThat(seen("#candidates").getText())
          .contains("intact, as the facts say", "leak into rock", "nothing", "MPa");
      ((JavascriptExecutor) browser)
          .executeScript("document.getElementById('review').scrollIntoView()");
      picture("review.png");
    }
    assertThat(problems()).isEmpty();
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
    browser.get(data.resolve("low-plateau/page.html").toUri().toString());
    waitFor("plots", "return document.querySelectorAll('#buildup canvas').length >= 2");
    assertThat(seen("#leads").getText()).contains("it leads to 40.8");
    assertThat(browser.findElements(By.cssSelector("#candidates tbody tr"))).hasSize(5);
    assertThat(seen("#verdict").getText()).isNotEmpty();
    ((JavascriptExecutor) browser)
        .executeScript("document.getElementById('buildup').scrollIntoView()");
    picture("replay-build-up.png");
    assertThat(problems()).isEmpty();
  }

  /** What the browser complained of, but for the connection the test itself cut. */
  private List<String> problems() {
    return browser.manage().logs().get(LogType.BROWSER).getAll().stream()
        .map(LogEntry::getMessage)
        .filter(m -> !m.contains("net::ERR_"))
        .toList();
  }
}

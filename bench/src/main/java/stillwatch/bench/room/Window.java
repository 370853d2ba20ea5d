package stillwatch.bench.room;

import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.openqa.selenium.By;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;

/** Debian's Chromium on the room's page, noting when it has painted an alarm. */
final class Window implements AutoCloseable {
  /** Notes by this machine's clock, after the frame that follows the change of the list. */
  private static final String NOTE =
      """
      window.seen = {};
      window.slowest = 0;
      const look = () => {
        const fresh = [...document.querySelectorAll('#alarms > li')].map((l) => l.dataset.id).filter((id) => !(id in window.seen));
        if (!fresh.length) return;
        fresh.forEach((id) => { window.seen[id] = null; });
        requestAnimationFrame(() => {
          const after = new MessageChannel();
          after.port1.onmessage = () => fresh.forEach((id) => { window.seen[id] = Date.now(); });
          after.port2.postMessage(0);
        });
      };
      new MutationObserver(look).observe(document.getElementById('alarms'), {childList: true});
      new PerformanceObserver((list) => list.getEntries().forEach((e) => { window.slowest = Math.max(window.slowest, e.duration); }))
        .observe({type: 'event', durationThreshold: 16});""";

  private final ChromeDriver driver;

  private Window(ChromeDriver driver) {
    this.driver = driver;
  }

  static Window open(String url) {
    ChromeOptions options = new ChromeOptions();
    options.setBinary("/usr/bin/chromium");
    options.addArguments(
        "--headless=new",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-dev-shm-usage",
        "--disable-background-timer-throttling",
        "--disable-backgrounding-occluded-windows",
        "--disable-renderer-backgrounding",
        "--window-size=1440,1050");
    ChromeDriver driver =
        new ChromeDriver(
            new ChromeDriverService.Builder()
                .usingDriverExecutable(Path.of("/usr/bin/chromedriver").toFile())
                .build(),
            options);
    driver.get(url);
    driver.executeScript(NOTE);
    return new Window(driver);
  }

  /** When it had painted each alarm, epoch milliseconds. */
  Map<String, Long> seen() {
    Map<String, Long> painted = new HashMap<>();
    if (driver.executeScript("return window.seen") instanceof Map<?, ?> found) {
      found.forEach(
          (id, at) -> {
            if (at instanceof Number ms) {
              painted.put(String.valueOf(id), ms.longValue());
            }
          });
    }
    return painted;
  }

  /** Clicks on the next of its sheets, as somebody who works there. */
  void work(int i) {
    List<String> sheets = List.of("evidence", "enter", "shift", "well");
    driver
        .findElement(By.cssSelector("[data-sheet=" + sheets.get(i % sheets.size()) + "]"))
        .click();
  }

  /**
   * The longest that anything done in it took until it was painted, milliseconds, by the browser's
   * own count (W3C Event Timing).
   */
  double slowest() {
    return driver.executeScript("return window.slowest") instanceof Number n
        ? n.doubleValue()
        : Double.NaN;
  }

  @Override
  public void close() {
    driver.quit();
  }
}

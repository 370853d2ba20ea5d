package stillwatch.station;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.openqa.selenium.By;
import org.openqa.selenium.Dimension;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.StaleElementReferenceException;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.WindowType;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.support.ui.WebDriverWait;

/**
 * Debian's Chromium without a screen, as a person would use it. One serves all tests of a process,
 * one after the other; each has a tab of its own and knows nothing of those before.
 */
final class Browser implements AutoCloseable {
  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static @Nullable Browser only;

  private final ChromeDriver driver;

  private Browser(ChromeDriver driver) {
    this.driver = driver;
  }

  /** The browser with a new tab and no memory; tabs that are open are closed. */
  static synchronized Browser open() {
    Browser browser = only;
    if (browser == null) {
      browser = new Browser(started());
      Runtime.getRuntime().addShutdownHook(new Thread(browser.driver::quit, "browser"));
      only = browser;
    }
    browser.forget();
    return browser;
  }

  private static ChromeDriver started() {
    ChromeOptions options = new ChromeOptions();
    options.setBinary("/usr/bin/chromium");
    options.addArguments(
        "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage");
    return new ChromeDriver(
        new ChromeDriverService.Builder()
            .usingDriverExecutable(Path.of("/usr/bin/chromedriver").toFile())
            .build(),
        options);
  }

  private void forget() {
    Set<String> before = driver.getWindowHandles();
    String tab = driver.switchTo().newWindow(WindowType.TAB).getWindowHandle();
    for (String old : before) {
      driver.switchTo().window(old).close();
    }
    driver.switchTo().window(tab);
    driver.executeCdpCommand("Network.clearBrowserCookies", Map.of());
    driver.manage().logs().get(LogType.BROWSER);
    size(1440, 1050);
  }

  ChromeDriver driver() {
    return driver;
  }

  void size(int wide, int high) {
    driver.manage().window().setSize(new Dimension(wide, high));
  }

  /** Shows the page as a screen of this size does, in CSS pixels; the window stays as it is. */
  void screen(int wide, int high, int scale) {
    driver.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", wide, "height", high, "deviceScaleFactor", scale, "mobile", wide < 500));
  }

  /** Shows the page as large as its window again. */
  void noScreen() {
    driver.executeCdpCommand("Emulation.clearDeviceMetricsOverride", Map.of());
  }

  /** Shows the page anew as a phone does. */
  void phone(int wide, int high) {
    size(500, 900); // the narrowest window Chromium opens; the page itself is set narrower
    screen(wide, high, 2);
    driver.navigate().refresh();
  }

  void get(String url) {
    driver.get(url);
  }

  Object run(String script, Object... arguments) {
    Object answer = driver.executeScript(script, arguments);
    return answer == null ? "" : answer;
  }

  void waitFor(String what, String script) {
    new WebDriverWait(driver, PATIENCE)
        .withMessage(what)
        .until(b -> Boolean.TRUE.equals(driver.executeScript(script)));
  }

  WebElement seen(String css) {
    return new WebDriverWait(driver, PATIENCE)
        .withMessage(css)
        .until(
            b ->
                b.findElements(By.cssSelector(css)).stream()
                    .filter(WebElement::isDisplayed)
                    .findFirst()
                    .orElse(null));
  }

  /** Types into a field of a form. */
  void type(String form, String field, String text) {
    seen(form + " [name=" + field + "]").sendKeys(text);
  }

  /** Waits until the text of an element has this in it. */
  void says(String css, String text) {
    new WebDriverWait(driver, PATIENCE)
        .withMessage(css + " says " + text)
        .ignoring(StaleElementReferenceException.class)
        .until(
            b ->
                b.findElements(By.cssSelector(css)).stream()
                    .anyMatch(e -> e.getText().contains(text)));
  }

  /** Clicks what may be drawn anew at any moment. */
  void click(String css) {
    new WebDriverWait(driver, PATIENCE)
        .withMessage("click " + css)
        .ignoring(StaleElementReferenceException.class)
        .until(
            b -> {
              seen(css).click();
              return true;
            });
  }

  void picture(String name) throws IOException {
    Files.createDirectories(Path.of("target/pictures"));
    Files.write(Path.of("target/pictures", name), driver.getScreenshotAs(OutputType.BYTES));
  }

  /**
   * What an automated audit has against the page by WCAG 2.2, levels A and AA (axe-core, run in the
   * page): rule and place of each.
   */
  List<String> audit() throws IOException {
    return audit("['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']");
  }

  /** Only what depends on the colours. */
  List<String> auditOfColours() throws IOException {
    return audit("{type: 'rule', values: ['color-contrast', 'link-in-text-block']}");
  }

  private List<String> audit(String only) throws IOException {
    if (Boolean.FALSE.equals(run("return typeof axe !== 'undefined'"))) {
      try (InputStream in = Browser.class.getResourceAsStream("/axe.min.js")) {
        if (in == null) {
          throw new IllegalStateException("axe.min.js is not on the test's class path");
        }
        run(new String(in.readAllBytes(), StandardCharsets.UTF_8));
      }
    }
    Object found =
        driver.executeAsyncScript(
            """
            const done = arguments[arguments.length - 1];
            axe.run(document, {runOnly: %s}).then(
              (r) => done(r.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target} ${n.failureSummary}`))),
              (e) => done([String(e)]));"""
                .formatted(only));
    return found instanceof List<?> all
        ? all.stream().map(String::valueOf).toList()
        : List.of("the audit did not run");
  }

  /** Light or dark, as the person's machine is set. */
  void scheme(String scheme) {
    driver.executeCdpCommand(
        "Emulation.setEmulatedMedia",
        Map.of("features", List.of(Map.of("name", "prefers-color-scheme", "value", scheme))));
  }

  /** What the browser complained of, but for connections the test itself cut. */
  List<String> problems() {
    return driver.manage().logs().get(LogType.BROWSER).getAll().stream()
        .map(LogEntry::getMessage)
        .filter(m -> !m.contains("net::ERR_"))
        .filter(m -> !m.contains("401") && !m.contains("404 (Not Found)"))
        .toList();
  }

  /** Leaves the page, so that nothing of it goes on; the browser itself stays for the next test. */
  @Override
  public void close() {
    driver.get("about:blank");
  }
}

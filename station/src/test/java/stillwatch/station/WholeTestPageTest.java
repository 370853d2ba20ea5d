package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/**
 * The demo's whole test, worked through on the page by a person, from go over a second cycle to the
 * reopening, and told by the report. What is right is what plan and scenario say. What the
 * scenario's people did there is left out; between two scenes the watch is stopped, and started
 * again where the next one begins, so that nobody must hurry.
 */
@Timeout(200)
class WholeTestPageTest extends PageOfOneWatch {
  private static final Path SCENARIO =
      WatchProcess.LARKSPUR.resolve("scenarios").resolve("whole-test.yaml");

  /** What the person does. */
  private static final Pattern BY_A_PERSON =
      Pattern.compile(
          ".*(decision: (go|cycle|reopen)|readiness; clear; surveillance lead|collection; adverse).*");

  WholeTestPageTest() {
    super("1", "2026-03-11T06:41:00Z");
  }

  @Override
  WatchProcess begun(Path data) throws IOException {
    String scenario =
        Files.readAllLines(SCENARIO).stream()
            .filter(line -> !BY_A_PERSON.matcher(line).matches())
            .collect(Collectors.joining("\n"));
    Path file = Files.writeString(data.resolve("scenario.yaml"), scenario);
    assertThat(Main.run("drill", "--scenario", "" + file, "--out", "" + recording())).isZero();
    return scene(from, speed);
  }

  private Path recording() {
    return folder.resolve("scenario.csv.gz");
  }

  private WatchProcess scene(String at, String pace) throws IOException {
    return WatchProcess.drill(folder, "" + recording().toAbsolutePath(), pace, options(at));
  }

  /** Stops the watch, and starts it again at this moment of the test. */
  private void goOn(String at, String pace) throws Exception {
    page.get("about:blank");
    watch.stop();
    watch = scene(at, pace).listening();
    page.get(watch.url("/"));
    seen();
  }

  /** Waits until the rules have read what was fed at once. */
  private void seen() {
    page.says("#sees", "WATCHING");
  }

  /** A picture as on a small screen; the page is then as large as before. */
  private void at1280(String name) throws IOException {
    page.screen(1280, 720, 1);
    page.picture(name);
    page.noScreen();
  }

  private void tick() {
    page.run("document.querySelector('#tick [name=name]').value = 'drill'");
    page.type("#tick", "remark", "worked through");
    page.click("#tick button");
    page.waitFor(
        "every condition is met",
        "return document.querySelectorAll('#readiness-rows tr[data-departs=no]').length === 7");
  }

  @Test
  @Order(1)
  void aPersonTicksWhatIsOpenAndPressesGo() throws Exception {
    seen();
    page.says("#band", "open, low is expected");
    page.says("#low-clock", "not counted");
    sheet("readiness");
    page.says("#readiness-head", "1 of 7 conditions open.");
    page.says("#readiness-rows tr[data-departs=yes]", "not ticked by anybody");
    page.says("#go-decided", "No go or no-go is logged.");
    decide("#go", "no-go", "the drill is not worked through");
    record("#go");
    page.says("#last-look", "drill");
    yes("#go");
    page.says("#go-decided", "no-go, by the deciders");
    tick();
    decide("#go", "go", "all conditions are met");
    record("#go");
    yes("#go");
    page.says("#go-decided", "go, by the deciders: all conditions are met");
    at1280("whole-1-go.png");
    assertThat(page.problems()).isEmpty();
  }

  @Test
  @Order(2)
  void theSixPartTurnsAreWatchedUntilTheWellIsShutIn() throws Exception {
    goOn("2026-03-11T06:44:50Z", "400");
    sheet("closing");
    page.run(
        "const now = document.getElementById('closing-now'); window.steps = new Set();"
            + "new MutationObserver(() => window.steps.add(now.textContent))"
            + ".observe(now, {childList: true, characterData: true, subtree: true})");
    page.says("#closing-now", "choke part-turn 6 of 6, shut, since 08:15:00 UTC");
    assertThat(String.valueOf(page.run("return [...window.steps].join('; ')")))
        .as("step after step, as they are taken")
        .containsPattern("part-turn [1-3] of 6.*part-turn [3-5] of 6.*part-turn 6 of 6, shut");
    page.says("#closing-rows tr:nth-child(1)", "PT-1: 21.158 MPa to 28.95");
    page.says("#closing-next", "every step of the list is done");
    page.says("#no-departures", "None.");
    page.waitFor(
        "six steps as expected",
        "return [...document.querySelectorAll('#closing-rows tr')]"
            + ".filter((r) => r.cells[5].textContent === 'as expected').length === 6");
    page.says("#rock li:nth-child(1)", "PT-1: the closing steps give a permeability-thickness of ");
    page.says("#rock li:nth-child(2)", "from 6 steps");
    page.says("#shut-in-at", "since 08:15");
    assertThat(page.problems()).isEmpty();
  }

  @Test
  @Order(3)
  void atAHoldPointTheEvidenceAndTheCostsOfBeingWrongStandBesideTheDecision() throws Exception {
    goOn("2026-03-11T20:13:00Z", "1");
    page.says("#hold-point", "OVERDUE");
    sheet("evidence");
    page.says("#evidence-rows", "clear: no bubbles at the wellhead or around it");
    page.says("#costs-rows", "leak into the sea");
    page.says("#costs-rows", "shoe of the intermediate casing: closes again once pressure is");
    page.says("#costs-rows", "taken off: no; lost by waiting: the rock above the shoe");
    page.says("#costs-rows", "292 to 350 m³ an hour flow; 0 m³ an hour of it are not collected.");
    page.says("#costs-cautions", "Decision support only");
    decide("#decision", "continue", "the build-up follows its line");
    record("#decision");
    at1280("whole-3-last-look.png");
    yes("#decision");
    page.says("#decisions", "the build-up follows its line");
    assertThat(page.audit()).isEmpty();
    page.run("document.querySelector('#costs-title').scrollIntoView()");
    at1280("whole-3-hold-point.png");
    assertThat(page.problems()).isEmpty();
  }

  @Test
  @Order(4)
  void anotherCycleIsDecidedWithWhatItChangesAndItsReadinessAskedAnew() throws Exception {
    sheet("end");
    page.says("#end-when", "The planned 48 h 00 min end at 03-13 08:15:00 UTC");
    page.says("#end-rows", "pressure: level");
    page.says("#cycles", "Cycle 1: begun 06:45:00 UTC");
    assertThat(page.run("return document.querySelector('#what-changes').hidden")).isEqualTo(true);
    decide("#ending", "cycle", "the level is ambiguous");
    page.type("#ending", "changes", "the passes come closer together");
    record("#ending");
    page.says("#last-look", "the passes come closer together");
    page.says("#last-look", "another cycle");
    yes("#ending");
    page.says("#phase", "reopening");
    at1280("whole-4-cycle.png");

    goOn("2026-03-11T22:41:00Z", "1");
    page.says("#band", "open, low is expected");
    sheet("closing");
    page.says("#closing-now", "The cycle is over since 20:1");
    sheet("readiness");
    page.says("#readiness-head", "1 of 7 conditions open.");
    page.says("#go-decided", "No go or no-go is logged.");
    tick();
    decide("#go", "go", "all conditions are met again");
    record("#go");
    yes("#go");
    assertThat(page.problems()).isEmpty();
  }

  @Test
  @Order(5)
  void theSecondCycleIsComparedWithTheFirstAndTheReopeningDecided() throws Exception {
    goOn("2026-03-12T06:16:00Z", "1");
    sheet("closing");
    page.says("#closing-now", "Cycle 2. Step now: choke part-turn 6 of 6, shut");
    page.says("#closing-cycle", "Changes of this cycle: the passes come closer together.");
    page.says("#closing-cycle", "all conditions are met again.");
    sheet("end");
    page.says("#cycles li:nth-child(1)", "departures from the plan: 0.");
    page.says("#cycles li:nth-child(2)", "departures from the plan: 0.");
    page.says("#compare-rows", "6 h");
    assertThat((Long) page.run("return document.querySelector('#compare-rows tr').cells.length"))
        .as("two cycles of two gauges")
        .isEqualTo(5);
    page.run("document.querySelector('#cycles-title').scrollIntoView()");
    at1280("whole-5-compared.png");
    decide("#ending", "reopen", "the vessels must leave for weather");
    record("#ending");
    yes("#ending");
    page.says("#phase", "reopening");

    stepLoggedTwice();
    assertThat(page.problems()).isEmpty();
  }

  /** By mistake: nothing is refused, what departs is told. */
  private void stepLoggedTwice() {
    sheet("enter");
    page.run("document.querySelector('#operation [name=what]').value = 'closure-step'");
    page.type("#operation", "text", "choke part-turn 2 of 6");
    page.click("#operation button");
    page.says("#operation output", "It is in the log.");
    page.seen("#alarms > li[data-rule=closing-order]");
    sheet("closing");
    page.says("#departures", "'choke part-turn 2 of 6' was logged a second time");
    page.says("#closing-rows tr[data-departs=yes]", "was logged a second time");
  }

  @Test
  @Order(6)
  void duringTheReopeningALostUnitIsSetAgainstTheFlow() throws Exception {
    goOn("2026-03-12T07:40:00Z", "1");
    page.says("#phase", "reopening");
    page.says("#band", "open, low is expected");
    sheet("enter");
    page.type("#observation", "means", "collection");
    page.run("document.querySelector('#observation [name=result]').value = 'adverse'");
    page.type("#observation", "text", "collection vessel west: the hose has parted");
    page.click("#observation button");
    page.seen("#alarms > li[data-rule=unit-lost]");
    at1280("whole-6-opening.png");
    assertThat(page.run("return document.querySelectorAll('li[data-rule^=reopening]').length"))
        .as("opened as the plan has it")
        .isEqualTo(0L);
    sheet("closing");
    page.says("#opening-now", "Step now: choke part-turn ");
    page.says("#opening-next", " flows).");
    page.says("#opening-rows tr:nth-child(1)", "choke part-turn 6 of 6, opened");
    page.says("#opening-rows tr:nth-child(1)", "as expected");
    assertThat(
            (Boolean)
                page.run("return document.querySelector('#closing section').id === 'opening-part'"))
        .as("what is under way stands first")
        .isTrue();
    at1280("whole-6-opening-steps.png");
    sheet("end");
    page.says("#units", "LOST: collection vessel west: the hose has parted");
    page.says("#balance", "up to 600 m³/d might not be collected.");
    page.says("#end-costs-rows", "no explanations of this shut-in have been compared");
    page.says(
        "#end-costs-rows", "25.0 m³ an hour of it are not collected without collection vessel");
    seabed();
    page.scheme("dark");
    for (String name : List.of("readiness", "closing", "end", "seabed")) {
      sheet(name);
      at1280("whole-6-" + name + ".png");
    }
    assertThat(page.audit()).isEmpty();
    onAPhone();
    assertThat(page.problems()).isEmpty();
  }

  /** A thing by a pass, metres from the wellhead. */
  private void saw(String pass, String name, String east, String size, String at) {
    page.click("#survey [value=seen]");
    page.run(
        "for (const name of ['means', 'pass']) document.querySelector('#survey').elements[name].value = ''");
    page.type("#survey", "means", "camera");
    page.type("#survey", "pass", pass);
    page.type("#survey", "name", name);
    page.type("#survey", "kind", "bubbles");
    page.type("#survey", "east", east);
    page.type("#survey", "north", "-4");
    page.type("#survey", "size", size);
    page.type("#survey", "uncertainty", "0.1");
    page.type("#survey", "at", at);
    page.click("#survey button");
    page.says("#survey output", "It is in the log.");
    page.says("#seabed-rows", name);
  }

  /** A pass is compared with none at first, then with the one that is entered late. */
  private void seabed() throws IOException {
    sheet("seabed");
    page.says("#seabed-head", "No pass over the seabed is logged.");
    saw("dive 2", "old seep", "12.5", "1", "");
    page.says("#seabed-without", "Pass 'dive 2' by camera is compared with none");
    page.says("#seabed-rows tr:nth-child(1)", "no comparison: no pass before the closing");
    page.seen("#alarms > li[data-rule=survey-uncompared]");
    saw("dive 1", "old seep", "12.5", "1", "2026-03-11T06:00:00Z");
    page.says("#seabed-rows tr:nth-child(1)", "unchanged");
    page.waitFor(
        "a comparison", "return document.querySelector('#seabed-without').children.length === 0");
    saw("dive 2", "seep by the flowline", "-7", "0.4", "");
    page.seen("#alarms > li[data-rule=seabed-new]");
    page.says(
        "#seabed-head", "1 new, 0 grown, 0 gone, 0 not looked for again, 0 without comparison.");
    page.says("#seabed-rows tr[data-state=new]", "7.0 m west, 4.0 m south of the wellhead");
    page.says("#seabed-plan svg", "2 NEW");
    page.says("#senses > li:nth-child(4)", "1 since the closing");
    page.click("#survey [value=nothing]");
    assertThat(page.run("return document.querySelector('#survey [name=east]').disabled"))
        .isEqualTo(true);
    at1280("whole-6-seabed-light.png");
    page.run("document.querySelector('#seabed-plan').scrollIntoView()");
    at1280("whole-6-seabed-plan.png");
  }

  private void onAPhone() throws IOException {
    page.phone(390, 844);
    page.says("#band", "open, low is expected");
    for (String name : List.of("readiness", "closing", "end", "evidence", "seabed")) {
      page.run("window.scrollTo(0, 0)");
      sheet(name);
      assertThat((Long) page.run("return document.documentElement.scrollWidth"))
          .as(name)
          .isLessThanOrEqualTo(390);
      page.run("document.querySelector('#" + name + "').scrollIntoView()");
      page.picture(name + "-phone.png");
    }
    page.noScreen();
  }

  /** What the report tells, in this order. */
  private static final List<String> TOLD =
      List.of(
          "Outcome at ",
          "low, as expected of an open well",
          "Cycle 1",
          ": all conditions are met.",
          "the closing steps give a permeability-thickness of",
          "Readiness before cycle 2",
          "Cycle 2",
          "the passes come closer together",
          "was logged a second time",
          "Opening 1",
          "The opening does not depart from the plan.",
          "Cycles at the same hours after the shut-in",
          "Collection units as last reported",
          "up to 600 m³/d might not be collected",
          "Seabed, compared with before the closing",
          "seep by the flowline, by camera",
          "NEW since the closing",
          "Operations",
          "choke part-turn 4 of 6, opened",
          "Decisions, and the evidence at that time",
          ": no-go, entered by",
          ": go, entered by",
          ": continue, entered by",
          "What it costs to be wrong, as it stood at that time:",
          "lost by waiting: the rock above the shoe",
          "292 to 350 m³ an hour flow",
          ": cycle, entered by",
          ": go, entered by",
          ": reopen, entered by",
          "Decision support only");

  @Test
  @Order(7)
  void theReportTellsItInOrderOnScreenAndOnPaperAndAgainOfTheLogAlone() throws Exception {
    page.get(watch.url("/api/report"));
    inOrder(String.valueOf(page.run("return document.body.innerText")));
    Object printed =
        page.driver()
            .executeCdpCommand("Page.printToPDF", Map.of("preferCSSPageSize", true))
            .get("data");
    inOrder(text(Base64.getDecoder().decode(String.valueOf(printed)), "whole-report-chromium.pdf"));
    String live = watch.text("/api/report");
    List<Double> rock =
        Pattern.compile("give a permeability-thickness of ([0-9.]+)")
            .matcher(live)
            .results()
            .map(m -> Double.valueOf(m.group(1)))
            .toList();
    assertThat(rock)
        .as("two cycles, two gauges: the scenario's 700 kPa a cycle, the middle of the facts")
        .hasSize(4)
        .allSatisfy(kh -> assertThat(kh).isBetween(19.2, 20.5));
    page.get("about:blank");
    stopAll();
    inOrder(text(Files.readAllBytes(report("pdf")), "whole-report.pdf"));
    assertThat(chapters(Files.readString(report("html")))).isEqualTo(chapters(live));
  }

  private Path report(String kind) {
    Path file = folder.resolve("report." + kind);
    String plan = WatchProcess.LARKSPUR.resolve("plan.yaml").toString();
    assertThat(Main.run("report", "--plan", plan, "--data", "" + folder, "--out", "" + file))
        .isZero();
    return file;
  }

  private static String text(byte[] pdf, String name) throws IOException {
    Files.createDirectories(Path.of("target/pictures"));
    Files.write(Path.of("target/pictures", name), pdf);
    try (PDDocument document = Loader.loadPDF(pdf)) {
      return new PDFTextStripper().getText(document);
    }
  }

  private static void inOrder(String text) {
    String flat = text.replaceAll("\\s+", " ");
    List<Integer> at = new ArrayList<>();
    int from = 0;
    for (String part : TOLD) {
      from = flat.indexOf(part, from);
      at.add(from);
      from = Math.max(from, 0);
    }
    assertThat(at).as("where each of %s stands", TOLD).doesNotContain(-1);
  }

  private static String chapters(String report) {
    return report.substring(report.indexOf("<h2>Cycle 1"), report.indexOf("<h2>Operations"))
        + report.substring(report.indexOf("<h2>Decisions"), report.indexOf("<h2>Changes that"));
  }
}

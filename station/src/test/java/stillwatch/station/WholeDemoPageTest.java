package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/**
 * The demo's whole test, from go through a second cycle to the reopening, on page and in report.
 * What is right is what its scenario says.
 */
@Timeout(200)
class WholeDemoPageTest extends PageOfOneWatch {
  WholeDemoPageTest() {
    super("30", "2026-03-12T08:28:00Z");
  }

  @Override
  WatchProcess begun(Path data) throws IOException {
    ProcessBuilder command =
        ChildJava.running(
            "stillwatch.station.Main",
            List.of(
                "watch",
                "--demo",
                "--scenario",
                "whole-test",
                "--data",
                data.toString(),
                "--speed",
                speed,
                "--from",
                from,
                "--http",
                "0"));
    command.command().addAll(1, List.of("-Xmx512m", "-Dstillwatch.home=.."));
    return WatchProcess.of(command);
  }

  @Test
  @Order(1)
  void thePageTellsItFromGoToReopening() throws Exception {
    page.says("#phase", "reopening");
    sheet("readiness");
    page.says("#readiness-begun", "The first closure step was at 03-11 22:45:00 UTC");
    page.says("#go-decided", "go, by the deciders: all conditions are met again");
    sheet("closing");
    page.says("#closing-now", "Cycle 2. Step now: choke part-turn 6 of 6, shut");
    page.says("#closing-cycle", "Changes of this cycle: the passes come closer together.");
    page.says("#rock", "PT-1: the closing steps give a permeability-thickness of");
    page.says("#rock", "PT-2: the closing steps give a permeability-thickness of");
    sheet("end");
    page.says("#cycles li:nth-child(1)", "Cycle 1: begun 03-11 06:45:00 UTC");
    page.says("#cycles li:nth-child(1)", "departures from the plan: 0.");
    page.says("#cycles li:nth-child(2)", "departures from the plan: 0.");
    page.says("#compare-rows", "6 h");
    page.says("#units", "LOST: collection vessel west: the hose has parted (marine lead).");
    page.says("#balance", "up to 600 m³/d might not be collected.");
    page.seen("#alarms > li[data-rule=unit-lost]");
    for (String scheme : List.of("light", "dark")) {
      page.size(1280, 720);
      page.scheme(scheme);
      for (String name : List.of("closing", "end")) {
        sheet(name);
        assertThat(page.audit()).as("%s, %s", name, scheme).isEmpty();
        page.run(
            "document.querySelector('#"
                + (name.equals("end") ? "units" : "rock")
                + "-part').scrollIntoView()");
        page.picture("whole-" + name + "-" + scheme + ".png");
      }
    }
    assertThat(page.problems()).isEmpty();
  }

  @Test
  @Order(2)
  void theReportTellsItInOrder() throws Exception {
    String live = watch.text("/api/report");
    List<Integer> at = new ArrayList<>();
    for (String part :
        List.of(
            "<h2>Readiness",
            "<h2>Cycle 1",
            ": the closing steps give a permeability-thickness of",
            "<h2>Cycle 2",
            "the passes come closer together",
            "<h2>Cycles at the same hours",
            "<h2>Collection units",
            "up to 600 m³/d might not be collected",
            "<h2>Operations")) {
      at.add(live.indexOf(part));
    }
    assertThat(at).isSorted().doesNotContain(-1);
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
    watch.stop();
    Path pdf = Path.of("target/whole-test.pdf");
    String plan = WatchProcess.LARKSPUR.resolve("plan.yaml").toString();
    assertThat(Main.run("report", "--plan", plan, "--data", folder.toString(), "--out", "" + pdf))
        .isZero();
    assertThat(Files.size(pdf)).isPositive();
  }
}

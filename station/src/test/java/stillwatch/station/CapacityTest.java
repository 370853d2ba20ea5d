package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The command that works out whether the flow of a reopened well could be collected. */
class CapacityTest {
  private static final Path PLAN = WatchProcess.LARKSPUR.resolve("plan.yaml");

  @TempDir Path folder;

  /** What the command printed; it must end well. */
  private static String said(Path plan, String... more) {
    List<String> arguments = new ArrayList<>(List.of("capacity", "--plan", plan.toString()));
    arguments.addAll(List.of(more));
    PrintStream before = System.out;
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    System.setOut(new PrintStream(bytes, true, StandardCharsets.UTF_8));
    try {
      assertThat(Main.run(arguments.toArray(String[]::new))).isZero();
    } finally {
      System.setOut(before);
    }
    return bytes.toString(StandardCharsets.UTF_8);
  }

  /** A blank line ends a block of figures; only the heading and the cautions assume nothing. */
  @Test
  void everyFigureOfTheTextStandsAboveWhatItAssumes() {
    String text = said(PLAN, "--days", "10", "--futures", "500", "--seed", "3");
    assertThat(text)
        .contains(
            "Larkspur-2, plan A3",
            "expected flow: likely 7600, from 7000 to 8400",
            "without collection vessel east and shuttle vessel at the kill line",
            "through top of the capping assembly: likely 9100, from 8900 to 9300, limited by the outlet itself",
            "kill line shut",
            "holds for 10 days without a break",
            "500 random futures, seed 3",
            "bottleneck: collection vessel east",
            "operates no valve");
    List<String> blocks = List.of(text.split("\\R\\R"));
    assertThat(blocks.subList(1, blocks.size() - 1))
        .filteredOn(block -> !block.startsWith("capacity by outlet")) // goes on in the next
        .hasSize(7)
        .allMatch(block -> block.contains("\n  assumes: "));
  }

  /** All units by hand: 8900 to 9300 through the top, 3000 to 3400 through the kill line. */
  @Test
  void programsGetAnObjectAFigureEachWithWhatItAssumes() throws IOException {
    List<JsonNode> lines = new ArrayList<>();
    for (String line : said(PLAN, "--futures", "500", "--format", "ndjson").lines().toList()) {
      lines.add(new ObjectMapper().readTree(line));
    }
    JsonNode all = lines.get(1);
    assertThat(all.path("lost")).isEmpty();
    assertThat(all.path("low-m3-per-d").asDouble()).isEqualTo(11_900);
    assertThat(all.path("likely-m3-per-d").asDouble()).isCloseTo(12_300, within(1e-9));
    assertThat(all.path("high-m3-per-d").asDouble()).isEqualTo(12_700);
    assertThat(lines.subList(0, lines.size() - 1))
        .allMatch(line -> !line.path("assumes").asText().isEmpty());
    assertThat(lines.get(lines.size() - 1).path("text").asText()).contains("operates no valve");
    JsonNode holds =
        lines.stream()
            .filter(l -> l.path("what").asText().equals("holds-without-break"))
            .findFirst()
            .orElseThrow();
    assertThat(holds.path("futures").asInt()).isEqualTo(500);
    assertThat(holds.path("probability").asDouble())
        .isBetween(
            holds.path("probability-low").asDouble(), holds.path("probability-high").asDouble());
  }

  @Test
  void thePictureNamesEveryLossAndIsDecisionSupport() throws Exception {
    Path picture = folder.resolve("capacity.svg");
    said(PLAN, "--futures", "200", "--picture", picture.toString());
    var svg =
        DocumentBuilderFactory.newInstance()
            .newDocumentBuilder()
            .parse(picture.toFile())
            .getDocumentElement();
    assertThat(svg.getTagName()).isEqualTo("svg");
    assertThat(svg.getTextContent())
        .contains(
            "all units: holds in 100.0 % of the draws",
            "without collection vessel east and collection vessel west",
            "kill line shut",
            "Decision support",
            "200 random futures, seed 1");
  }

  @Test
  void flowsAndVolumesAreShownAsThePlanWantsThem() throws IOException {
    Path plan =
        Files.writeString(
            folder.resolve("plan.yaml"),
            Files.readString(PLAN)
                .replace("  temperature: Cel\n", "  temperature: Cel\n  flow: \"[bbl_us]/d\"\n"));
    // 7600 / 0.158987294928
    assertThat(said(plan, "--futures", "200"))
        .contains(
            "when the well is reopened, bbl/d", "expected flow: likely 47803", " bbl on average");
  }

  @Test
  void whatCannotBeWorkedOutIsToldInOneLine() throws Exception {
    String text = Files.readString(PLAN);
    int from = text.indexOf("reopening:");
    Path without =
        Files.writeString(
            folder.resolve("plan.yaml"),
            text.substring(0, from) + text.substring(text.indexOf("recordings:\n", from)));
    Map<List<String>, String> wrong =
        Map.of(
            List.of("--plan", without.toString()), "the plan has no 'reopening:'",
            List.of("--plan", PLAN.toString(), "--days", "0"), "--days 0.0: must be above 0",
            List.of("--plan", PLAN.toString(), "--days", "NaN"), "--days NaN: must be above 0",
            List.of("--plan", PLAN.toString(), "--futures", "0"), "must be from 1 to 1000000",
            List.of("--plan", PLAN.toString(), "--seed", "x"), "'x' is not a whole number",
            List.of("--plan", PLAN.toString(), "--picture", "x.png"), "as SVG only");
    for (Map.Entry<List<String>, String> e : wrong.entrySet()) {
      List<String> arguments = new ArrayList<>(List.of("capacity"));
      arguments.addAll(e.getKey());
      Outcome outcome = Outcome.inside(arguments.toArray(String[]::new));
      assertThat(outcome.exit()).as(e.getKey().toString()).isEqualTo(2);
      assertThat(outcome.lines().get(0)).contains(e.getValue());
    }
  }
}

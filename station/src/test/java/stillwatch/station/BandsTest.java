package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.PlanLoader;

class BandsTest {
  private static final Path PLAN = WatchProcess.LARKSPUR.resolve("plan.yaml");

  @TempDir Path folder;

  /** What a command printed; it must end well. */
  private static String said(String... arguments) {
    PrintStream before = System.out;
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    System.setOut(new PrintStream(bytes, true, StandardCharsets.UTF_8));
    try {
      assertThat(Main.run(arguments)).isZero();
    } finally {
      System.setOut(before);
    }
    return bytes.toString(StandardCharsets.UTF_8);
  }

  @Test
  void bandsExplainsItself() throws Exception {
    Path picture = folder.resolve("bands.svg");
    String text = said("bands", "--plan", PLAN.toString(), "--picture", picture.toString());
    assertThat(text)
        .contains(
            "Larkspur-2",
            "MPa, absolute",
            "intact, built up",
            "leak into rock at 3400 m",
            "leak into the sea: any level",
            "mostly governed by: intermediate casing",
            "intact-low",
            "plan:    46.00",
            "draws, seed 1",
            "operates no valve");
    var svg =
        DocumentBuilderFactory.newInstance()
            .newDocumentBuilder()
            .parse(picture.toFile())
            .getDocumentElement();
    assertThat(svg.getTagName()).isEqualTo("svg");
    assertThat(svg.getTextContent()).contains("rock takes fluid: shoe of the liner", "sea water");
  }

  /** The middle of the intact well by hand: known quantities at their middles. */
  @Test
  void theIntactWellsMiddleIsThatOfTheFactsMiddles() throws Exception {
    for (String line :
        said("bands", "--plan", PLAN.toString(), "--format", "ndjson").lines().toList()) {
      var node = new ObjectMapper().readTree(line);
      if (node.path("what").asText().equals("intact")) {
        double byHand = 75_470 - 7800 * 1.4 * 60 / (8.1e7 * 2e-6) - 8.1 * (4350 - 1410);
        assertThat(node.path("p50-kpa").asDouble()).isBetween(byHand - 150, byHand + 150);
        return;
      }
    }
    throw new AssertionError("no line about the intact well");
  }

  @Test
  void aPlanWithoutBandsGetsThemFromItsFactsAsACurveInTime() throws IOException {
    String plan = Files.readString(PLAN);
    int from = plan.indexOf("bands:");
    Path file =
        Files.writeString(
            folder.resolve("plan.yaml"),
            plan.substring(0, from) + plan.substring(plan.indexOf("test:", from)));
    Bands bands = PlanLoader.load(file, Catalogue.shipped()).bands();
    assertThat(bands.leakHighKPa()).isBetween(41_000.0, 42_000.0);
    assertThat(bands.ceilingKPa()).isBetween(52_000.0, 53_000.0);
    assertThat(bands.after(3).intactLowKPa())
        .as("three hours after the shut-in an intact well may still be lower")
        .isBetween(bands.leakHighKPa(), bands.after(24).intactLowKPa());
    assertThat(bands.after(24).intactLowKPa()).isLessThan(bands.intactLowKPa());
    assertThat(bands.after(Double.NaN)).isEqualTo(bands);
  }
}

package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

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
        double byHand = 74_670 - 7800 * 1.4 * 60 / (8.1e7 * 2e-6) - 8.1 * (4350 - 1410);
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
    assertThat(bands.ceilingKPa()).isBetween(51_900.0, 52_100.0);
    assertThat(bands.after(3).intactLowKPa())
        .as("three hours after the shut-in an intact well may still be lower")
        .isBetween(bands.leakHighKPa(), bands.after(24).intactLowKPa());
    assertThat(bands.after(3).leakHighKPa()).isLessThanOrEqualTo(bands.leakHighKPa());
    assertThat(bands.after(24).intactLowKPa()).isLessThan(bands.intactLowKPa());
    assertThat(bands.after(Double.NaN)).isEqualTo(bands);
  }

  @Test
  void theDemosStatedBandsAgreeWithItsOwnFacts() throws IOException {
    String plan = Files.readString(PLAN);
    int from = plan.indexOf("bands:");
    Bands stated = PlanLoader.load(PLAN, Catalogue.shipped()).bands();
    Path file =
        Files.writeString(
            folder.resolve("plan.yaml"),
            plan.substring(0, from) + plan.substring(plan.indexOf("test:", from)));
    Bands follow = PlanLoader.load(file, Catalogue.shipped()).bands();
    assertThat(stated.intactLowKPa()).isCloseTo(follow.intactLowKPa(), within(20.0));
    assertThat(stated.leakHighKPa()).isCloseTo(follow.leakHighKPa(), within(20.0));
    assertThat(stated.ceilingKPa()).isCloseTo(follow.ceilingKPa(), within(20.0));
  }

  @Test
  void bothEdgesArePrintedOverTheHoursAndMoveWhereTheFactsMakeThem() throws IOException {
    assertThat(said("bands", "--plan", PLAN.toString()))
        .contains("by time since shut-in", "the plan's bands", "stay as they are");
    // a leak whose rock takes fluid only near the intact level: early on no well stands that high
    String plan =
        Files.readString(PLAN)
            .replace("takes: {low: 55 MPa, high: 57.92 MPa}", "takes: {low: 60 MPa, high: 61 MPa}");
    int from = plan.indexOf("bands:");
    Path file =
        Files.writeString(
            folder.resolve("plan.yaml"),
            plan.substring(0, from) + plan.substring(plan.indexOf("test:", from)));
    Bands bands = PlanLoader.load(file, Catalogue.shipped()).bands();
    assertThat(bands.after(0.1).leakHighKPa()).isLessThan(bands.after(12).leakHighKPa());
    for (double hours : new double[] {0.1, 1, 24, Double.NaN}) {
      Bands then = bands.after(hours);
      assertThat(then.leakHighKPa())
          .as("never above what an intact well may show")
          .isLessThanOrEqualTo(then.intactLowKPa());
    }
  }
}

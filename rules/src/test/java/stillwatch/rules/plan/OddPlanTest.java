package stillwatch.rules.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.rules.book.Catalogue;

/** Whatever stands in a plan, it is a plan or is refused with sentences that name a place. */
class OddPlanTest {
  private static final Path DEMO = Path.of("../demo-data/larkspur/plan.yaml");
  private static final Catalogue CATALOGUE = Catalogue.shipped();
  private static final String PLACE = "odd\\.yaml:[1-9][0-9]*:[1-9][0-9]*: \\S.*";

  @TempDir Path folder;

  private Path plan(String text) throws IOException {
    return Files.writeString(folder.resolve("odd.yaml"), text);
  }

  private void refused(String text) throws IOException {
    Path odd = plan(text);
    Assertions.assertTimeoutPreemptively(
        Duration.ofSeconds(30),
        () ->
            assertThatThrownBy(() -> PlanLoader.load(odd, CATALOGUE))
                .isInstanceOf(PlanException.class)
                .satisfies(e -> allNamePlaces(String.valueOf(e.getMessage()))));
  }

  private static void allNamePlaces(String message) {
    assertThat(message.lines()).anySatisfy(l -> assertThat(l).containsPattern(PLACE));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "plan",
        "[]",
        "{}",
        "plan: &a [*a]",
        "plan: 1\\nwell: &w {name: *w}",
        "plan: 1e999999999",
        "plan: 18446744073709551617",
        "plan: 1\\nplan: 1",
        "plan: !!java.net.URL [http://127.0.0.1/]",
        "? [a, b]\\n: c",
        "a: b: c",
        "\\ttab: 1"
      })
  void whatIsNoPlanIsRefusedWithAPlace(String text) throws IOException {
    refused(text.replace("\\n", "\n").replace("\\t", "\t"));
  }

  /** Facts that cannot be: a depth above the sea, a fluid that weighs less than nothing. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "water-depth: 1410 m|water-depth: -1410 m",
        "datum-depth: 4350 m|datum-depth: 0 m",
        "depth: 2600 m|depth: -2600 m",
        "depth: 1405 m|depth: -1405 m",
        "sea-gradient: 10.07 kPa/m|sea-gradient: -10.07 kPa/m",
        "fluid-gradient: {low: 8.05 kPa/m|fluid-gradient: {low: -8.05 kPa/m",
        "reservoir-pressure: {low: 74.2 MPa|reservoir-pressure: {low: -74.2 MPa",
        "takes: {low: 47 MPa|takes: {low: -47 MPa",
        "rating: 69 MPa|rating: -69 MPa"
      })
  void aFactThatCannotBeIsRefused(String right, String wrong) throws IOException {
    String demo = Files.readString(DEMO);
    assertThat(demo).contains(right);
    refused(demo.replace(right, wrong));
  }

  /** It would be written into every alert, and can be written in no encoding. */
  @ParameterizedTest
  @ValueSource(strings = {"\\ud800", "\\udc00", "\\0"})
  void halfOfASurrogatePairIsRefused(String escape) throws IOException {
    refused(
        Files.readString(DEMO).replace("name: Larkspur-2", "name: \"Larkspur " + escape + "\""));
  }

  @Test
  void aWholePairIsTaken() throws IOException {
    Path odd =
        plan(
            Files.readString(DEMO)
                .replace("name: Larkspur-2", "name: \"Larkspur \\ud83d\\ude00\""));
    assertThat(PlanLoader.load(odd, CATALOGUE).name()).isEqualTo("Larkspur \uD83D\uDE00");
  }

  /** One line of the demo plan is left out: what is left is a plan, or is told with a place. */
  @Property(seed = "20260308", tries = 40)
  void aPlanWithoutOneOfItsLinesIsAPlanOrIsToldWithAPlace(@ForAll @IntRange(max = 145) int line)
      throws IOException {
    List<String> lines = new java.util.ArrayList<>(Files.readAllLines(DEMO));
    lines.remove(Math.min(line, lines.size() - 1));
    Path odd = Files.createTempDirectory("odd").resolve("odd.yaml");
    Files.write(odd, lines);
    try {
      assertThat(PlanLoader.load(odd, CATALOGUE).gauges()).isNotEmpty();
    } catch (PlanException e) {
      allNamePlaces(String.valueOf(e.getMessage()));
    }
  }
}

package stillwatch.rules.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.engine.RuleBook;

/** A plan with mistakes is told all of them at once. */
class PlanLoaderTest {
  @TempDir Path folder;

  @Test
  void sixMistakesAreToldAtOnceWithLineAndSuggestion() throws IOException {
    String plan = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    Path bad = folder.resolve("bad.yaml");
    Files.writeString(
        bad,
        plan.replaceFirst("unit: kPa", "unit: kPx")
            .replace("hold-point-every: 6 h", "hold-point-evry: 6 h")
            .replace("ceiling: 52 MPa", "ceiling: 52 m")
            .replace("hold: 3 h", "hold: three")
            .replace("gauge: HY-2, background", "gauge: PT-2, background")
            .replace("low-plateau:", "low-platou:"));

    assertThatThrownBy(() -> PlanLoader.load(bad, RuleBook.forPlan(bad).catalogue()))
        .isInstanceOf(PlanException.class)
        .satisfies(
            e -> {
              assertThat(e.getMessage())
                  .contains("bad.yaml:38:11: unit 'kPx'")
                  .contains(
                      "bad.yaml:112:3: unknown key 'hold-point-evry'; did you mean 'hold-point-every'?")
                  .contains("bad.yaml:101:12: unit 'm'")
                  .contains("the plan has no gauge 'PT-2' of kind sound")
                  .contains("'low-platou'");
            });
  }

  /** 0.36 degrees Fahrenheit are 0.2 K by definition of the degree (NIST SP 811, B.8). */
  @Test
  void theAccuracyOfATemperatureGaugeIsADifferenceInWhateverUnit() throws IOException {
    String plan = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    for (String accuracy : List.of("0.2 Cel", "0.2 K", "0.36 [degF]")) {
      Path file = folder.resolve("plan.yaml");
      Files.writeString(file, plan.replaceFirst("accuracy: [0-9.]+ Cel", "accuracy: " + accuracy));
      GaugePlan gauge =
          PlanLoader.load(file, RuleBook.forPlan(file).catalogue()).gauges().stream()
              .filter(g -> g.kind() == Kind.TEMPERATURE)
              .findFirst()
              .orElseThrow();
      assertThat(gauge.accuracy()).as(accuracy).isCloseTo(0.2, within(1e-12));
    }
  }
}

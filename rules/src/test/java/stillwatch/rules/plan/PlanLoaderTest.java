package stillwatch.rules.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
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
}

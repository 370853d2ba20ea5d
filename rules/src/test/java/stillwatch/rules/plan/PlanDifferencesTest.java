package stillwatch.rules.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.engine.RuleBook;

/** What a plan states as a difference. */
class PlanDifferencesTest {
  @TempDir Path folder;

  /** 0.36 degrees Fahrenheit are 0.2 K by definition of the degree (NIST SP 811, B.8). */
  @ParameterizedTest
  @ValueSource(strings = {"0.2 Cel", "0.2 K", "0.36 [degF]"})
  void theAccuracyOfATemperatureGaugeIsADifferenceInWhateverUnit(String accuracy)
      throws IOException {
    String plan = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    Path file = folder.resolve("plan.yaml");
    Files.writeString(file, plan.replaceFirst("accuracy: [0-9.]+ Cel", "accuracy: " + accuracy));
    GaugePlan gauge =
        PlanLoader.load(file, RuleBook.forPlan(file).catalogue()).gauges().stream()
            .filter(g -> g.kind() == Kind.TEMPERATURE)
            .findFirst()
            .orElseThrow();
    assertThat(gauge.accuracy()).isCloseTo(0.2, within(1e-12));
  }
}

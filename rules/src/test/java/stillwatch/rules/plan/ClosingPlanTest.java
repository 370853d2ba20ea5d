package stillwatch.rules.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.rules.book.Catalogue;

/** What a plan says of the closing list, and what is said against it. */
class ClosingPlanTest {
  private static final Path DEMO = Path.of("../demo-data/larkspur/plan.yaml");

  @TempDir Path folder;

  private Plan read(String from, String to) throws IOException {
    String plan = Files.readString(DEMO);
    assertThat(plan).contains(from);
    Path file = folder.resolve("plan.yaml");
    Files.writeString(file, plan.replaceFirst(Pattern.quote(from), to));
    return PlanLoader.load(file, Catalogue.shipped());
  }

  @Test
  void theListIsReadAndItsStepsAreTheClosureSteps() throws IOException {
    Plan plan = read("A3", "A3");
    assertThat(plan.closing())
        .hasSize(6)
        .first()
        .isEqualTo(
            new ClosingStep(
                "choke part-turn 1 of 6",
                "choke",
                0.8,
                Duration.ofMinutes(15),
                Optional.of(new ClosingStep.Response(6_000, 9_000, Duration.ofMinutes(10)))));
    assertThat(plan.test().closureSteps())
        .extracting(TestPlan.ClosureStep::leaves)
        .containsExactly(0.8, 0.6, 0.42, 0.25, 0.1, 0.0);
  }

  @Test
  void theOpeningListIsReadLikeIt() throws IOException {
    assertThat(read("A3", "A3").opening())
        .hasSize(6)
        .first()
        .isEqualTo(
            new ClosingStep(
                "choke part-turn 6 of 6, opened",
                "choke",
                0.1,
                Duration.ofMinutes(15),
                Optional.of(new ClosingStep.Response(-3_500, -300, Duration.ofMinutes(10)))));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "choke part-turn 2 of 6 | Choke  part-turn 1 of 6 | stands twice",
        "leaves: 60 % | leaves: 90 % | a step leaves a share between 0 and what flowed before",
        "hold: 15 min | hold: -15 min | a hold cannot be shorter than zero",
        "low: 6 MPa, high: 9 MPa | low: 9 MPa, high: 6 MPa | low must be below high",
        "within: 10 min | within: 0 min | say more than zero",
        "leaves: 80 %, hold | hold | leaves",
        "flows: 25 % | flows: 5 % | not less than before and 100 % at most",
        "flows: 10 % | flows: 0 % | above 0 % flows",
        "low: -3.5 MPa, high: -0.3 MPa | low: 0.3 MPa, high: 3.5 MPa | low is the largest fall, write it negative"
      })
  void whatIsWrongIsSaidWithItsPlace(String from, String to, String said) {
    assertThatThrownBy(() -> read(from, to))
        .isInstanceOf(PlanException.class)
        .hasMessageContaining(said)
        .hasMessageMatching("(?s).*plan\\.yaml:\\d+:\\d+: .*");
  }

  @Test
  void theStepsAreSaidInOnePlace() {
    String phases = "phases: [flowing, closing, watching]";
    assertThatThrownBy(() -> read(phases, phases + "\n  closure-steps: [a]"))
        .isInstanceOf(PlanException.class)
        .hasMessageContaining("plan.yaml:105:3: the steps stand under 'closing' already");
  }
}

package stillwatch.rules.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.well.WellFacts;

/** What a plan says of a leak beside its pressure, and what it is refused for. */
class LeakFactsTest {
  private static final Path DEMO = Path.of("../demo-data/larkspur/plan.yaml");

  @TempDir Path folder;

  private Plan plan(String good, String other) throws IOException {
    String plan = Files.readString(DEMO);
    assertThat(plan).contains(good);
    Path file = Files.writeString(folder.resolve("plan.yaml"), plan.replace(good, other));
    return PlanLoader.load(file, Catalogue.shipped());
  }

  private static WellFacts.LeakPath leak(Plan plan, int i) {
    return Objects.requireNonNull(plan.facts()).leaks().get(i);
  }

  @Test
  void whetherItClosesAgainAndWhatWaitingLosesAreRead() throws IOException {
    Plan plan = plan("closes-again: unknown", "closes-again: yes");
    assertThat(leak(plan, 0).closesAgain()).isEqualTo(WellFacts.ClosesAgain.NO);
    assertThat(leak(plan, 0).lostByWaiting()).startsWith("the rock above the shoe");
    assertThat(leak(plan, 1).closesAgain()).isEqualTo(WellFacts.ClosesAgain.YES);
  }

  @Test
  void whatIsLeftOutIsNotKnown() throws IOException {
    Plan plan = plan(", closes-again: unknown", "");
    assertThat(leak(plan, 1).closesAgain()).isEqualTo(WellFacts.ClosesAgain.UNKNOWN);
    assertThat(leak(plan, 1).lostByWaiting()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "closes-again: unknown | closes-again: perhaps | 'perhaps' is not one of yes, no, unknown",
        "closes-again: unknown | closes-again: true | 'true' is not one of yes, no, unknown",
        "closes-again: unknown | closes-agin: no | unknown key 'closes-agin'; did you mean 'closes-again'?",
        "closes-again: unknown | lost-by-waiting: 3 | must be a text, is not",
      })
  void whatIsWrongIsToldInOneSentenceWithItsPlace(String good, String bad, String told) {
    assertThatThrownBy(() -> plan(good, bad))
        .isInstanceOf(PlanException.class)
        .hasMessageContaining(told)
        .message()
        .matches(m -> m.lines().allMatch(l -> l.matches(".*plan\\.yaml:[0-9]{2}:\\d+: .+")));
  }
}

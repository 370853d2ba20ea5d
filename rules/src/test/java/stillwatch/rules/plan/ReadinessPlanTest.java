package stillwatch.rules.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.rules.book.Catalogue;

/** What a plan says must be so before the first step, and what it is refused for. */
class ReadinessPlanTest {
  private static final Path DEMO = Path.of("../demo-data/larkspur/plan.yaml");

  @TempDir Path folder;

  @Test
  void aConditionIsReadWithItsOwnerAndHowItIsKnown() throws IOException {
    assertThat(PlanLoader.load(DEMO, Catalogue.shipped()).readiness())
        .contains(
            new Condition(
                "camera",
                "the vehicle's camera has seen the wellhead before the closing",
                "vehicle supervisor",
                Condition.KnownBy.PASS,
                "camera"),
            new Condition(
                "limits",
                "bands and ceiling are agreed",
                "well engineer",
                Condition.KnownBy.TICK,
                ""));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "known-by: twins | known-by: twin | 'twin' is not one of tick, pass, gauges",
        "means: camera | means: sonar | no pass by 'sonar' is planned; name the means of one under 'test: passes'",
        "means: camera | means: camra | no pass by 'camra' is planned; did you mean 'camera'?; name the means",
        "known-by: pass, means: camera | known-by: pass | a condition known by 'pass' needs 'means', like camera",
        "known-by: twins | known-by: twins, means: camera | only a condition known by 'pass' has means; leave it out",
        "name: drill | name: limits | condition 'limits' stands twice; give one another name",
        "name: drill | name: \"drill: a\" | a name ends at a colon when it is ticked; write it without ':'",
        "owner: marine lead | ownr: marine lead | unknown key 'ownr'; did you mean 'owner'?",
        "owner: marine lead, | '' | the key 'owner' is missing here",
      })
  void whatIsWrongIsToldInOneSentenceWithItsPlace(String good, String bad, String told)
      throws IOException {
    String plan = Files.readString(DEMO);
    assertThat(plan).contains(good);
    int at = plan.indexOf(good, plan.indexOf("readiness:"));
    Path file =
        Files.writeString(
            folder.resolve("plan.yaml"),
            plan.substring(0, at) + bad + plan.substring(at + good.length()));
    assertThatThrownBy(() -> PlanLoader.load(file, Catalogue.shipped()))
        .isInstanceOf(PlanException.class)
        .hasMessageContaining(told)
        .message()
        .matches(m -> m.lines().allMatch(l -> l.matches(".*plan\\.yaml:1[0-9]{2}:\\d+: .+")));
  }
}

package stillwatch.rules.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.rules.book.CatalogueException;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.watch.WellWatch;

/** Rules of a user's own, in the folder beside the plan. */
class UserRulesTest {
  private static final String ENTRY =
      """
      - id: warm-wellhead
        title: Warm above the closed rams
        priority: medium
        about: well
        parameters:
          - {name: above, dimension: temperature, standard: 30 Cel, about: Where warm begins.}
          - {name: hold, dimension: duration, standard: 20 s, about: How long.}
        sentence: "It is {level:temperature} above the rams."
        returned: "It is {level:temperature} again."
        cause: Fluid passes the rams.
        consequence: They erode.
        response: Call the well engineer.
        respond-within: 10 min
        fooled-by: A warm current.
      """;
  private static final String RULE =
      """
      @name('warm-wellhead')
      select gauge as subject, nowMs, level > ?:above:double as beyond, level < ?:above:double - 1 as normal, level
      from GaugesIndicator[gauges where kind = 'temperature']
      """;

  @TempDir Path folder;

  private Path plan = Path.of("plan.yaml");

  @BeforeEach
  void copyPlan() throws IOException {
    plan = Files.copy(Path.of("../demo-data/larkspur/plan.yaml"), folder.resolve("plan.yaml"));
    Files.createDirectory(folder.resolve("rules"));
    Files.writeString(folder.resolve("rules/catalogue.yaml"), ENTRY);
  }

  @Test
  void aGoodOneFires() throws IOException {
    Files.writeString(folder.resolve("rules/warm-wellhead.epl"), RULE);
    RuleBook book = RuleBook.forPlan(plan);
    Plan read = PlanLoader.load(plan, book.catalogue());
    List<Finding> found = new ArrayList<>();
    GaugeSet set = GaugeSet.of("TT-1");
    try (WellWatch watch = new WellWatch(read, book, found::add)) {
      for (int s = 0; s < 120; s++) {
        long ms = 1_772_967_600_000L + s * 1000L;
        watch.accept(Frame.good("larkspur-2", ms, ms, set, s < 60 ? 20 : 40 + s * 0.01));
      }
    }
    assertThat(found)
        .filteredOn(f -> f.rule().equals("warm-wellhead"))
        .singleElement()
        .satisfies(
            f -> assertThat(f.summary()).startsWith("It is 40").contains("°C above the rams."));
  }

  @ParameterizedTest
  @CsvSource({"level > ?:above:double, level > -?:above:double, 4", "level >, height >, 3"})
  void aBadOneIsRefusedInOneLineWithFileAndLine(String good, String bad, int line)
      throws IOException {
    Path epl = folder.resolve("rules/warm-wellhead.epl");
    String rule = "// warm-wellhead\n// Detects: warmth.\n" + RULE;
    Files.writeString(epl, rule.replace(good, bad));
    assertThatThrownBy(() -> RuleBook.forPlan(plan))
        .isInstanceOf(CatalogueException.class)
        .message()
        .contains("warm-wellhead.epl:" + line + ": ")
        .doesNotContain("Detects", "\n");
  }

  @Test
  void aRuleWithoutEntryAndAnEntryWithoutRuleAreRefused() throws IOException {
    assertThatThrownBy(() -> RuleBook.forPlan(plan)).hasMessageContaining("warm-wellhead.epl");
    Files.writeString(folder.resolve("rules/warm-wellhead.epl"), RULE);
    Files.writeString(folder.resolve("rules/other.epl"), RULE);
    assertThatThrownBy(() -> RuleBook.forPlan(plan))
        .hasMessageContaining("other.epl: has no entry");
  }
}

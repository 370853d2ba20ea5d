package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.function.Predicate;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.rules.engine.DeployedRule;
import stillwatch.rules.engine.Rule;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.engine.Verdict;
import stillwatch.rules.engine.VerdictNeeds;
import stillwatch.rules.engine.WellEngine;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.replay.Replay;

/** Rows that nobody waits for are left out, and nothing else changes by it. */
class QuietRowsTest {
  private static final Path PLAN = Path.of("../demo-data/larkspur/plan.yaml");
  private static final CapturedRun CAPTURED = new CapturedRun();
  private static Plan plan;
  private static RuleBook book;

  @TempDir Path folder;

  @BeforeAll
  static void replay() throws IOException {
    book = RuleBook.shipped();
    plan = PlanLoader.load(PLAN, book.catalogue());
    Path recording = PLAN.resolveSibling("leak.csv.gz");
    try (var feed = RecordingFeed.open(recording, plan.recordings(), new Problems())) {
      Replay.run(plan, book, feed, f -> {}, CAPTURED);
    }
  }

  @Test
  void everyShippedRuleRaisesAndReturnsTheSameWithAndWithoutThem() {
    long fewer = 0;
    long all = 0;
    for (Rule rule : book.rules()) {
      Heard with = new Heard(rule, plan, gates -> VerdictNeeds.ALWAYS);
      Heard without = new Heard(rule, plan, gates -> gates);
      assertThat(without.changes).as(rule.entry().id()).isEqualTo(with.changes);
      all += with.rows;
      fewer += without.rows;
    }
    assertThat(fewer).isPositive().isLessThan(all / 10);
  }

  @Test
  void aRowCountsWhereTheConditionHoldsOrSomebodyWaits() throws IOException {
    Rule rule =
        own(
            "select gauge as subject, nowMs, gauge = 'PT-1' as beyond, true as normal from GaugeIndicator");
    assertThat(subjects(rule, subject -> false)).containsOnly("PT-1");
    assertThat(subjects(rule, subject -> subject.equals("PT-2"))).containsOnly("PT-1", "PT-2");
  }

  @Test
  void aRuleThatRemembersHearsOfEverything() throws IOException {
    Rule window =
        own(
            "select gauge as subject, nowMs, false as beyond, true as normal from GaugeIndicator#length(2)");
    Rule sum =
        own(
            "select gauge as subject, nowMs, false as beyond, count(*) > 0 as normal from GaugeIndicator");
    assertThat(subjects(window, subject -> false)).contains("PT-1", "PT-2");
    assertThat(subjects(sum, subject -> false)).contains("PT-1", "PT-2");
  }

  private Rule own(String epl) throws IOException {
    Path copy = Files.copy(PLAN, folder.resolve(folder.toFile().list().length + ".yaml"));
    Path rules = Files.createDirectories(folder.resolve("rules"));
    Files.writeString(
        rules.resolve("catalogue.yaml"),
        """
        - id: own
          title: Own
          priority: low
          about: gauge
          sentence: "It is."
          returned: "It is not."
          cause: A test.
          consequence: None.
          response: None.
          respond-within: 10 min
          fooled-by: Nothing.
        """);
    Files.writeString(rules.resolve("own.epl"), "@name('own') " + epl);
    return RuleBook.forPlan(copy).rules().stream()
        .filter(r -> r.entry().id().equals("own"))
        .findFirst()
        .orElseThrow();
  }

  private static List<String> subjects(Rule rule, Predicate<String> waits) {
    List<String> subjects = new ArrayList<>();
    DeployedRule deployed =
        new DeployedRule(rule, Map.of(), waits::test, v -> subjects.add(v.subject()));
    try (WellEngine engine = new WellEngine(List.of(deployed))) {
      CAPTURED.gauges().stream().limit(50).forEach(engine::send);
    }
    return subjects;
  }

  /** What a rule's gates made of all that was captured. */
  private static final class Heard {
    private final List<String> changes = new ArrayList<>();
    private long rows;

    Heard(Rule rule, Plan plan, Function<RuleGates, VerdictNeeds> standing) {
      RuleGates gates = new RuleGates(rule, plan.setting(rule.entry().id()));
      DeployedRule deployed =
          new DeployedRule(rule, gates.parameters, standing.apply(gates), v -> judge(gates, v));
      try (WellEngine engine = new WellEngine(List.of(deployed))) {
        for (int i = 0; i < CAPTURED.wells().size(); i++) {
          engine.send(CAPTURED.gauges().get(i));
          engine.send(CAPTURED.wells().get(i));
        }
      }
    }

    private void judge(RuleGates gates, Verdict verdict) {
      rows++;
      Gate.Change change = gates.judge(verdict);
      if (change != Gate.Change.NONE) {
        changes.add(verdict.nowMs() + " " + verdict.subject() + " " + change);
      }
    }
  }
}

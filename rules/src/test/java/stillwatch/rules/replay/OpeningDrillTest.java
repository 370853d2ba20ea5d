package stillwatch.rules.replay;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import stillwatch.rules.book.Priority;
import stillwatch.rules.drill.DrillSource;
import stillwatch.rules.drill.Scenario;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/** The whole test's first closing and opening, with half an hour of shut-in between. */
class OpeningDrillTest {
  private static final Path FOLDER = Path.of("../demo-data/larkspur");
  private static final double OPENED = 2.75;
  private static final Scenario WHOLE = Scenario.read(FOLDER.resolve("scenarios/whole-test.yaml"));

  private static Scenario scenario(boolean slowly) {
    List<Scenario.Step> steps = new ArrayList<>();
    for (Scenario.Step s : WHOLE.steps().subList(0, 12)) {
      double at = s.at() < 14 ? s.at() : s.at() - 14.6 + OPENED;
      steps.add(new Scenario.Step(at, s.rate(), s.text(), slowly ? s.over() : null));
    }
    List<Scenario.Event> events =
        new ArrayList<>(
            WHOLE.events() == null
                ? List.of()
                : WHOLE.events().stream().filter(e -> e.from() < 2.5).toList());
    events.add(
        new Scenario.Event(
            "operation", OPENED - 0.05, null, null, "decision: reopen; the deciders; weather"));
    return new Scenario(
        WHOLE.start(), 4.5, WHOLE.seed(), WHOLE.well(), steps, null, WHOLE.gauges(), events);
  }

  private static List<Finding> raised(Scenario scenario) throws IOException {
    Path planFile = FOLDER.resolve("plan.yaml");
    RuleBook book = RuleBook.forPlan(planFile);
    Plan plan = PlanLoader.load(planFile, book.catalogue());
    List<Finding> raised = new ArrayList<>();
    Replay.run(plan, book, new DrillSource(scenario, plan.well()), Replay.raisedInto(raised));
    return raised;
  }

  private static Map<String, Long> high(List<Finding> raised) {
    return raised.stream()
        .filter(f -> f.priority() == Priority.HIGH)
        .collect(Collectors.groupingBy(Finding::rule, Collectors.counting()));
  }

  @Test
  void turnedSlowlyByTheListTheOpeningRaisesNothingHigh() throws IOException {
    List<Finding> raised = raised(scenario(true));
    assertThat(high(raised)).isEmpty();
    assertThat(raised).extracting(Finding::rule).contains("explained-fall");
  }

  /** The fourth to the sixth part-turn take off more than 3 MPa within 80 s. */
  @Test
  void turnedAtOnceItIsTooFast() throws IOException {
    assertThat(high(raised(scenario(false)))).containsOnlyKeys("reopening-fast");
  }
}

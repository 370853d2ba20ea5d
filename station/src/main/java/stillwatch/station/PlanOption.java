package stillwatch.station;

import java.nio.file.Path;
import picocli.CommandLine.Option;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.service.RulesService.Watched;

/** The {@code --plan} of every command that watches. */
final class PlanOption {
  @Option(names = "--plan", required = true, paramLabel = "FILE", description = "The plan of the well's test (YAML).")
  private Path file = Path.of("plan.yaml");

  /** The plan and its rules, or an exception naming every mistake. */
  Watched load() {
    RuleBook book = RuleBook.forPlan(file);
    Plan plan = PlanLoader.load(file, book.catalogue());
    return new Watched(plan, book);
  }
}

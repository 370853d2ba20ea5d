package stillwatch.station.option;

import java.nio.file.Path;
import picocli.CommandLine.Option;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.BestDelays;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.service.RulesService.WatchedWell;

/** The {@code --plan} of every command that watches. */
public final class PlanOption {
  @Option(
      names = "--plan",
      required = true,
      paramLabel = "FILE",
      description = "The plan of the well's test (YAML).")
  private Path file = Path.of("plan.yaml");

  /** The plan and its rules, or an exception naming every mistake. */
  public WatchedWell load() {
    return load(file);
  }

  /** The plan in this file and its rules. */
  public static WatchedWell load(Path file) {
    RuleBook book = RuleBook.forPlan(file);
    Plan plan = PlanLoader.load(file, book.catalogue());
    return new WatchedWell(plan, book);
  }

  /**
   * Says on standard error how soon each rule can see at best, and what the plan's periods break.
   */
  public static void sayDelays(WatchedWell watched) {
    BestDelays delays = BestDelays.of(watched.plan(), watched.book().catalogue());
    System.err.println(
        "How soon at best, by the periods of the plan (readings needed x period + hold; what is small takes longer):");
    delays.lines().forEach(line -> System.err.println("  " + line));
    delays.warnings().forEach(line -> System.err.println("WARNING: " + line));
  }
}

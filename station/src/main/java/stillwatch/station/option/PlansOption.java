package stillwatch.station.option;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import picocli.CommandLine.Option;
import stillwatch.rules.service.RulesService.WatchedWell;

/** The {@code --plan} of every command that serves several wells. */
public final class PlansOption {
  @Option(
      names = "--plan",
      required = true,
      paramLabel = "FILE",
      description = "The plan of a well's test (YAML); once for each well.")
  private List<Path> files = new ArrayList<>();

  /** The plans and their rules, or an exception naming every mistake of the first bad one. */
  public List<WatchedWell> load() {
    return files.stream().map(PlanOption::load).toList();
  }
}

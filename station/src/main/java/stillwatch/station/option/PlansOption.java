package stillwatch.station.option;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
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

  /**
   * The plans and their rules, or an exception naming every mistake of the first bad one.
   *
   * @throws InputException when two plans are of the same well
   */
  public List<WatchedWell> load() {
    Map<String, Path> of = new HashMap<>();
    List<WatchedWell> wells = new ArrayList<>();
    for (Path file : files) {
      WatchedWell well = PlanOption.load(file);
      Path before = of.putIfAbsent(well.plan().well(), file);
      if (before != null) {
        throw new InputException(
            "--plan %s --plan %s: both are of well %s; leave one of them out"
                .formatted(before, file, well.plan().well()));
      }
      wells.add(well);
    }
    return wells;
  }
}

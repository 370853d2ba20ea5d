package stillwatch.station.run;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import stillwatch.rules.drill.Drill;
import stillwatch.rules.drill.Scenario;
import stillwatch.station.option.InputException;

/** The scenarios that come with the demo, and the recordings made of them when one is shown. */
public final class DemoScenarios {
  private static final String ENDING = ".yaml";

  private DemoScenarios() {}

  /**
   * The scenario of this name.
   *
   * @param folder where the scenarios lie
   * @throws InputException when there is none, with the names there are
   */
  public static Scenario named(Path folder, String name) throws IOException {
    Path file = folder.resolve(name + ENDING);
    if (!Files.isRegularFile(file) || !folder.equals(file.getParent())) {
      throw new InputException(
          "--scenario " + name + ": there is no such scenario; there are " + names(folder));
    }
    return Scenario.read(file);
  }

  private static String names(Path folder) throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      return files
          .map(f -> String.valueOf(f.getFileName()))
          .filter(f -> f.endsWith(ENDING))
          .map(f -> f.substring(0, f.length() - ENDING.length()))
          .sorted()
          .collect(Collectors.joining(", "));
    }
  }

  /** Simulates a scenario into a recording in a folder that is there. */
  public static Path recorded(Scenario scenario, Path folder) throws IOException {
    Path recording = folder.resolve("scenario.csv.gz");
    long unused = Drill.write(scenario, recording);
    return recording;
  }
}

package stillwatch.station.command;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import stillwatch.rules.drill.Drill;
import stillwatch.rules.drill.Scenario;

/** Makes a recording of an invented well. */
@Command(
    name = "drill",
    mixinStandardHelpOptions = true,
    description =
        "Simulates a recording of an invented well from a scenario; the same scenario gives the same recording.")
public final class DrillCommand implements Callable<Integer> {
  @Option(
      names = "--scenario",
      required = true,
      paramLabel = "FILE",
      description = "The scenario (YAML).")
  private Path scenario = Path.of("scenario.yaml");

  @Option(
      names = "--out",
      required = true,
      paramLabel = "FILE",
      description = "The recording to write, .csv or .csv.gz.")
  private Path out = Path.of("drill.csv.gz");

  @Override
  public Integer call() throws IOException {
    long rows = Drill.write(Scenario.read(scenario), out);
    System.err.printf(Locale.ROOT, "%s: %,d rows%n", out, rows);
    return 0;
  }
}

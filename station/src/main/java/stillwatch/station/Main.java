package stillwatch.station;

import picocli.AutoComplete;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import stillwatch.station.command.AlertsCommand;
import stillwatch.station.command.BandsCommand;
import stillwatch.station.command.CapacityCommand;
import stillwatch.station.command.CheckCommand;
import stillwatch.station.command.DrillCommand;
import stillwatch.station.command.HealthCommand;
import stillwatch.station.command.IntakeCommand;
import stillwatch.station.command.JournalCommand;
import stillwatch.station.command.LogCommand;
import stillwatch.station.command.PrepareCommand;
import stillwatch.station.command.ReadyCommand;
import stillwatch.station.command.ReplayCommand;
import stillwatch.station.command.ReportCommand;
import stillwatch.station.command.RulesCommand;
import stillwatch.station.command.SourcesCommand;
import stillwatch.station.command.TuneCommand;
import stillwatch.station.command.WatchCommand;
import stillwatch.station.output.Cautions;

/** The command line. Exit 0 fine, 1 failed, 2 the input or the arguments are wrong. */
@Command(
    name = "stillwatch",
    mixinStandardHelpOptions = true,
    versionProvider = Version.class,
    synopsisSubcommandLabel = "COMMAND",
    description =
        "Keeps watch over a shut-in subsea well and tells the operations room what changed and which rule says so.",
    exitCodeListHeading = "Exit codes:%n",
    exitCodeList = {"0:fine", "1:failed", "2:the input or the arguments are wrong"},
    footer = {"", Cautions.TEXT},
    subcommands = {
      WatchCommand.class,
      ReplayCommand.class,
      CheckCommand.class,
      TuneCommand.class,
      BandsCommand.class,
      CapacityCommand.class,
      ReadyCommand.class,
      SourcesCommand.class,
      DrillCommand.class,
      JournalCommand.class,
      LogCommand.class,
      ReportCommand.class,
      IntakeCommand.class,
      RulesCommand.class,
      AlertsCommand.class,
      HealthCommand.class,
      PrepareCommand.class,
      AutoComplete.GenerateCompletion.class
    })
public final class Main {
  private Main() {}

  /** Runs one command. */
  public static void main(String[] args) {
    System.exit(run(args));
  }

  static CommandLine line() {
    return new CommandLine(new Main());
  }

  static int run(String... args) {
    CommandLine line = line();
    line.setExecutionExceptionHandler(new Faults());
    line.setCaseInsensitiveEnumValuesAllowed(true);
    PlainValues.register(line);
    line.setParameterExceptionHandler(
        (e, a) -> {
          e.getCommandLine().getErr().println("stillwatch: " + e.getMessage());
          e.getCommandLine()
              .getErr()
              .println("Try: stillwatch " + name(e.getCommandLine()) + "--help");
          return CommandLine.ExitCode.USAGE;
        });
    return line.execute(args);
  }

  private static String name(CommandLine command) {
    return command.getParent() == null ? "" : command.getCommandName() + " ";
  }
}

package stillwatch.station.command;

import picocli.CommandLine.Command;
import stillwatch.station.output.Cautions;

/** The log that the rules read. */
@Command(
    name = "log",
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND",
    description = "Writes the log of a well out.",
    subcommands = {LogExportCommand.class},
    footer = {"", Cautions.TEXT})
public final class LogCommand {}

package stillwatch.station.command;

import picocli.CommandLine.Command;
import stillwatch.station.output.Cautions;

/** The record of what was seen and done. */
@Command(
    name = "journal",
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND",
    description = "Proves the journal whole, or writes its record out.",
    subcommands = {JournalVerifyCommand.class, JournalExportCommand.class},
    footer = {"", Cautions.TEXT})
public final class JournalCommand {}

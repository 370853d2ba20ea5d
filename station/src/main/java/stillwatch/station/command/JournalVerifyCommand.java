package stillwatch.station.command;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.alerts.desk.JournalCheck;
import stillwatch.alerts.journal.Journal;
import stillwatch.station.option.InputException;
import stillwatch.station.option.JournalOption;
import stillwatch.station.output.Cautions;

/** Proves a journal whole, or names the first thing in it that is not as it was written. */
@Command(
    name = "verify",
    mixinStandardHelpOptions = true,
    description =
        "Proves the journal whole, or names the first entry or row that is not as it was written (exit 1). A journal in a file: stop its watch first, or ask it at /api/journal/check.",
    footer = {"", Cautions.TEXT})
final class JournalVerifyCommand implements Callable<Integer> {
  @Mixin private JournalOption journal = new JournalOption();

  @Option(
      names = "--data",
      paramLabel = "DIR",
      description = "The folder that holds the journal. Default: stillwatch-data.")
  private Path data = Path.of("stillwatch-data");

  @Option(
      names = "--expect",
      paramLabel = "HASH",
      description =
          "A hash, or its first 16 digits or more, that was printed or sent before: it must be in the record.")
  private @Nullable String expected;

  @Override
  public Integer call() {
    if (expected != null && !expected.matches("[0-9a-f]{16,64}")) {
      throw new InputException(
          "--expect " + expected + ": give 16 to 64 hex digits of a hash printed before");
    }
    try (Journal open = journal.existing(data)) {
      JournalCheck.Result result = JournalCheck.of(open, expected);
      if (result.fault() == null) {
        System.out.println(
            "The journal is whole: "
                + result.entries()
                + " entries, the last with hash "
                + result.hash());
        return 0;
      }
      System.out.println("THE JOURNAL IS NOT WHOLE: " + result.fault() + ".");
      System.out.println("Whole up to entry " + result.entries() + ", hash " + result.hash());
      return 1;
    }
  }
}

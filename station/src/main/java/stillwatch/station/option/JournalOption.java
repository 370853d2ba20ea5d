package stillwatch.station.option;

import java.nio.file.Files;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;
import stillwatch.alerts.journal.Journal;

/**
 * Where the journal is. User and password come from the environment, so that they stand in no file
 * and no process list.
 */
public final class JournalOption {
  @Option(
      names = "--journal",
      paramLabel = "JDBC-URL",
      description =
          "The journal's database, for example jdbc:postgresql://host/stillwatch; user and password come from the environment (STILLWATCH_JOURNAL_USER, STILLWATCH_JOURNAL_PASSWORD). Default: a file in the data folder.")
  private @Nullable String url;

  /**
   * Opens one that is there.
   *
   * @throws InputException when there is none
   */
  public Journal existing(Path folder) {
    if (url == null && !Files.exists(folder.resolve("journal.mv.db"))) {
      throw new InputException(
          folder + ": there is no journal here; give the folder of a watch with --data");
    }
    return url == null
        ? Journal.existingIn(folder)
        : Journal.existing(
            url,
            environment("STILLWATCH_JOURNAL_USER"),
            environment("STILLWATCH_JOURNAL_PASSWORD"));
  }

  /** Opens it, in the folder when no database was named. */
  public Journal open(Path folder) {
    if (url == null) {
      return Journal.inFolder(folder);
    }
    return Journal.open(
        url, environment("STILLWATCH_JOURNAL_USER"), environment("STILLWATCH_JOURNAL_PASSWORD"));
  }

  private static String environment(String name) {
    String value = System.getenv(name);
    return value == null ? "" : value;
  }
}

package stillwatch.station.option;

import java.nio.file.Path;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;
import stillwatch.ingest.intake.Senders;
import stillwatch.ingest.intake.TokenFile;

/** Who may send telemetry. */
public final class TokensOption {
  @Option(
      names = "--tokens",
      paramLabel = "FILE",
      description =
          "Who may send telemetry: NAME, feed (readings) or operate (operations and decisions, too), and the token's SHA-256, a line each.")
  private @Nullable Path file;

  /**
   * Those of the file; empty when none is given.
   *
   * @throws InputException when the file cannot be used
   */
  public Optional<Senders> senders() {
    try {
      return Optional.ofNullable(file).map(TokenFile::new);
    } catch (TokenFile.TokenFileException e) {
      throw new InputException("--tokens " + e.getMessage());
    }
  }
}

package stillwatch.ingest.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Digests by {@code printf %s TOKEN | sha256sum}. */
class TokenFileTest {
  private static final String BUOY =
      "buoy feed b7cc9d4a4c6ea6c7ce8d1f0a6fb2b1bd3e5fa4ad0ca6d1dbd2d0d7b2d2a0b9c1\n";

  /** SHA-256 of "abc", FIPS 180-4, example B.1. */
  private static final String ABC =
      "winch operate BA7816BF8F01CFEA414140DE5DAE2223B00361A396177A9CB410FF61F20015AD\n";

  @TempDir Path folder;

  private Path written(String text, int second) throws IOException {
    Path file = folder.resolve("tokens");
    Files.writeString(file, text);
    Files.setLastModifiedTime(file, FileTime.from(Instant.ofEpochSecond(1_770_000_000L + second)));
    return file;
  }

  @Test
  void whoIsInTheFileMaySendUntilTheyAreTakenOut() throws IOException {
    TokenFile tokens = new TokenFile(written("# who feeds\n\n" + BUOY + ABC, 0));
    assertThat(tokens.of("Bearer abc", "10.0.0.9")).contains(new Sender("winch", true));
    assertThat(tokens.of("Bearer abcd", "10.0.0.9")).isEmpty();
    assertThat(tokens.of("abc", "10.0.0.9")).isEmpty();
    assertThat(tokens.of("", "10.0.0.9")).isEmpty();
    written(ABC.replace("operate", "feed"), 1);
    assertThat(tokens.of("Bearer abc", "10.0.0.9")).contains(new Sender("winch", false));
    written(BUOY, 2);
    assertThat(tokens.of("Bearer abc", "10.0.0.9")).isEmpty();
    written(ABC, 3);
    assertThat(tokens.of("Bearer abc", "10.0.0.9")).isPresent();
    written(ABC + "half a line", 4);
    assertThat(tokens.of("Bearer abc", "10.0.0.9")).as("a file that is wrong").isEmpty();
    Files.delete(folder.resolve("tokens"));
    assertThat(tokens.of("Bearer abc", "10.0.0.9")).isEmpty();
  }

  @Test
  void aWrongLineIsNamed() throws IOException {
    Path file = written(ABC + "buoy rule 12\n", 0);
    assertThatThrownBy(() -> new TokenFile(file)).hasMessageContaining("tokens:2: write a name");
    assertThatThrownBy(() -> new TokenFile(folder.resolve("none")))
        .hasMessageContaining("cannot be read");
  }
}

package stillwatch.alerts.journal;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** Nobody but the user who runs the watch reads its record. */
@DisabledOnOs(value = OS.WINDOWS, disabledReason = "no POSIX rights there")
class PrivateFilesTest {
  @TempDir Path folder;

  private static String rights(Path path) throws Exception {
    return PosixFilePermissions.toString(Files.getPosixFilePermissions(path));
  }

  @Test
  void whatAJournalMakesIsItsUsersAlone() throws Exception {
    Path data = folder.resolve("made").resolve("data");
    try (Journal journal = Journal.inFolder(data)) {
      journal.write(1, r -> r.enter("w", "note", "", "Ada", "x".repeat(1_000_000)));
      try (Stream<Path> all = Files.list(data)) {
        List<Path> files = all.toList();
        assertThat(files).isNotEmpty();
        for (Path file : files) {
          assertThat(rights(file)).as(file.toString()).isEqualTo("rw-------");
        }
      }
    }
    assertThat(rights(data)).isEqualTo("rwx------");
    assertThat(rights(folder.resolve("made"))).isEqualTo("rwx------");
    assertThat(rights(data.resolve("journal.mv.db"))).isEqualTo("rw-------");
  }

  @Test
  void aJournalThatOthersCouldReadIsTakenFromThem() throws Exception {
    Journal.inFolder(folder).close();
    Path file = folder.resolve("journal.mv.db");
    Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-r--r--"));
    Journal.inFolder(folder).close();
    assertThat(rights(file)).isEqualTo("rw-------");
  }
}

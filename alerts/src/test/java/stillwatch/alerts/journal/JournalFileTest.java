package stillwatch.alerts.journal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.DriverManager;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What the file of a journal holds when its process is killed: the file as it is at that moment.
 */
class JournalFileTest {
  private static final int ENTRIES = 20;

  @TempDir Path folder;

  private static void write(Journal journal, int number) {
    journal.write(number, r -> r.enter("w", "note", "", "Ada", "x".repeat(500)));
  }

  private static Path file(Path folder) {
    return folder.resolve("journal.mv.db");
  }

  /** The number of the newest entry in a copy of the file, by the database's driver alone. */
  private long newest(Path killed) throws Exception {
    Files.createDirectories(killed);
    Files.copy(file(folder), file(killed));
    try (var c = DriverManager.getConnection(Journal.fileUrl(killed), "stillwatch", "");
        var s = c.createStatement();
        var r = s.executeQuery("select max(seq) from entry")) {
      assertThat(r.next()).isTrue();
      return r.getLong(1);
    }
  }

  @Test
  void hasEveryEntryThatWasAcknowledged() throws Exception {
    try (Journal journal = Journal.inFolder(folder)) {
      Boolean unused = // as it is after 45 s, when H2 takes what was written over as old
          journal.transaction(c -> c.createStatement().execute("set retention_time 0"));
      for (int i = 0; i < ENTRIES; i++) {
        write(journal, i);
        assertThat(newest(folder.resolve("killed" + i))).isEqualTo(journal.head().seq());
      }
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 8192})
  void isNoJournalOnceItWasCut(int bytes) throws Exception {
    Journal.inFolder(folder).close();
    byte[] whole = Files.readAllBytes(file(folder));
    Files.write(file(folder), Arrays.copyOf(whole, bytes));
    assertThatThrownBy(() -> Journal.existingIn(folder).close())
        .isInstanceOf(JournalException.class)
        .hasMessageMatching("(?!.*(null|Exception)).*put back a copy.*");
  }

  @Test
  void isNoLargerThanItsEntriesOnceItIsClosed() throws Exception {
    long largest;
    try (Journal journal = Journal.inFolder(folder)) {
      for (int i = 0; i < 5 * ENTRIES; i++) {
        write(journal, i);
      }
      largest = Files.size(file(folder));
    }
    assertThat(Files.size(file(folder))).isLessThan(largest / 2);
    try (Journal journal = Journal.inFolder(folder)) {
      assertThat(journal.head().seq()).isEqualTo(5 * ENTRIES + 1);
    }
  }
}

package stillwatch.ingest.spool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Message;

/** The files of a spool: numbers go on, one file back is kept, whatever a crash leaves. */
class SpoolFolderTest {
  @TempDir Path folder;

  private static Message message(long number) {
    return Message.of("w", ("v" + number).getBytes(StandardCharsets.UTF_8), Map.of());
  }

  private List<String> files() throws IOException {
    try (Stream<Path> all = Files.list(folder)) {
      return all.map(f -> String.valueOf(f.getFileName())).sorted().toList();
    }
  }

  private static List<Long> numbers(Path file) throws IOException {
    List<Long> numbers = new java.util.ArrayList<>();
    try (SpoolFile open = SpoolFile.open(file)) {
      for (SpoolFile.Entry e = open.read(0); e != null; e = open.read(e.end())) {
        numbers.add(e.number());
      }
    }
    return numbers;
  }

  /** Appends so many, then begins a new file. */
  private static void fill(SpoolFolder spool, long from, long to) throws IOException {
    try (SpoolFile file = SpoolFile.open(spool.current())) {
      for (long n = from; n <= to; n++) {
        file.append(n, message(n));
      }
      spool.begin(new SpoolFile.Entry(to, message(to), file.end())).close();
    }
  }

  @Test
  void theIdStaysAndTheFirstNumberIsZero() throws IOException {
    SpoolFolder first = SpoolFolder.open(folder);
    assertThat(first.id()).isNotBlank();
    assertThat(first.first()).isZero();
    assertThat(first.before()).isEmpty();
    assertThat(SpoolFolder.open(folder).id()).isEqualTo(first.id());
  }

  @Test
  void aNewFileBeginsWithTheLastMessageAndOneFileBackIsKept() throws IOException {
    SpoolFolder spool = SpoolFolder.open(folder);
    fill(spool, 1, 3);
    fill(spool, 4, 6);
    assertThat(spool.first()).isEqualTo(6);
    assertThat(numbers(spool.current())).containsExactly(6L);
    assertThat(numbers(spool.before().orElseThrow())).containsExactly(3L, 4L, 5L, 6L);
    assertThat(files()).hasSize(3).contains("id");

    SpoolFolder again = SpoolFolder.open(folder);
    assertThat(again.current()).isEqualTo(spool.current());
    assertThat(again.before()).isEqualTo(spool.before());
    assertThat(again.first()).isEqualTo(6);
  }

  /**
   * Killed after the new file was there and before the old one was gone; or in the middle of it.
   */
  @Test
  void whatACrashLeavesBehindIsCleared() throws IOException {
    SpoolFolder spool = SpoolFolder.open(folder);
    fill(spool, 1, 3);
    Path old = folder.resolve("0000000000000000000.messages");
    Files.copy(old, folder.resolve("keep"));
    fill(spool, 4, 6);
    Files.move(folder.resolve("keep"), old);
    Files.write(folder.resolve("half"), new byte[] {1, 2, 3});

    SpoolFolder again = SpoolFolder.open(folder);
    assertThat(Files.exists(old)).isFalse();
    assertThat(again.first()).isEqualTo(6);
    assertThat(again.before().map(Path::getFileName).map(Path::toString))
        .isEqualTo(Optional.of("0000000000000000003.messages"));
    fill(again, 7, 8);
    assertThat(numbers(again.current())).containsExactly(8L);
  }

  /** A power cut may leave the file of the id with nothing in it. */
  @Test
  void anIdThatAPowerCutEmptiedIsMadeAnew() throws IOException {
    SpoolFolder first = SpoolFolder.open(folder);
    Files.writeString(folder.resolve("id"), "");
    SpoolFolder again = SpoolFolder.open(folder);
    assertThat(again.id()).isNotBlank().isNotEqualTo(first.id());
    assertThat(SpoolFolder.open(folder).id()).isEqualTo(again.id());
  }

  @Test
  void aDamagedIdIsToldWithItsFile() throws IOException {
    Path id = Files.write(folder.resolve("id"), new byte[] {-1, -1, 7});
    assertThatThrownBy(() -> SpoolFolder.open(folder))
        .isInstanceOf(IOException.class)
        .hasMessage(
            id
                + ": is damaged; put back a copy, or delete it, and what the spool still holds may be in the log twice");
  }
}

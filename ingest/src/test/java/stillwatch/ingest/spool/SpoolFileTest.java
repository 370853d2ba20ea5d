package stillwatch.ingest.spool;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Message;

class SpoolFileTest {
  @TempDir Path folder;

  private static Message message(int i) {
    return Message.of(
        "well-" + i % 2,
        ("value é " + i).getBytes(StandardCharsets.UTF_8),
        Map.of("format", "t" + i));
  }

  private static List<SpoolFile.Entry> all(SpoolFile file) throws IOException {
    List<SpoolFile.Entry> all = new ArrayList<>();
    for (SpoolFile.Entry k = file.read(0); k != null; k = file.read(k.end())) {
      all.add(k);
    }
    return all;
  }

  /** As a power cut leaves it: cut off anywhere, or with a byte that is not what was written. */
  @Test
  void whateverBecomesOfItsEndWhatWasWholeBeforeIsReadAndGoneOnFrom() throws IOException {
    Path whole = folder.resolve("whole");
    List<Long> ends = new ArrayList<>(List.of(0L));
    try (SpoolFile file = SpoolFile.open(whole)) {
      for (int i = 0; i < 5; i++) {
        file.append(100 + i, message(i));
        ends.add(file.end());
      }
      file.force();
      assertThat(all(file))
          .extracting(SpoolFile.Entry::number)
          .containsExactly(100L, 101L, 102L, 103L, 104L);
    }
    byte[] bytes = Files.readAllBytes(whole);
    Path hurt = folder.resolve("hurt");
    for (int at = 0; at < bytes.length; at++) {
      byte[] flipped = bytes.clone();
      flipped[at] ^= 0x10;
      for (byte[] left : List.of(java.util.Arrays.copyOf(bytes, at), flipped)) {
        Files.write(hurt, left);
        int before = 0;
        while (ends.get(before + 1) <= at) {
          before++;
        }
        try (SpoolFile file = SpoolFile.open(hurt)) {
          file.append(7, message(7));
          List<SpoolFile.Entry> found = all(file);
          assertThat(found).as("cut or hurt at %d", at).hasSize(before + 1);
          for (int i = 0; i < before; i++) {
            same(found.get(i).message(), message(i));
          }
          same(found.get(before).message(), message(7));
        }
      }
    }
  }

  private static void same(Message a, Message b) {
    assertThat(a.key()).isEqualTo(b.key());
    assertThat(a.value()).isEqualTo(b.value());
    assertThat(a.headers()).isEqualTo(b.headers());
  }
}

package stillwatch.ingest.door;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.door.Positions.Position;

class PositionsTest {
  @TempDir Path folder;

  private Positions open() throws Exception {
    return Positions.open(folder.resolve("sources/logger.positions"));
  }

  @Test
  void theLastIsKnownAfterARestart() throws Exception {
    try (Positions positions = open()) {
      assertThat(positions.of("ab")).isEmpty();
      positions.put("ab", new Position(100, 7));
      positions.put("cd", new Position(5, 1));
      positions.put("ab", new Position(200, 9));
    }
    try (Positions positions = open()) {
      assertThat(positions.of("ab")).contains(new Position(200, 9));
      assertThat(positions.of("cd")).contains(new Position(5, 1));
    }
  }

  @Test
  void aLineThatIsTornIsLeftOutWhereverItIsTorn() throws Exception {
    Path file = folder.resolve("sources/logger.positions");
    String last = "ab 200 9 .\n";
    for (int whole = 0; whole < last.length() - 1; whole++) {
      Files.createDirectories(file.getParent());
      Files.writeString(file, "ab 100 7 .\n" + last.substring(0, whole));
      try (Positions positions = open()) {
        assertThat(positions.of("ab")).as(whole + " bytes").contains(new Position(100, 7));
      }
      assertThat(Files.readAllLines(file)).containsExactly("ab 100 7 .");
    }
  }

  @Test
  void theFilesThatWereLongestNotReadAreForgottenFirst() throws Exception {
    StringBuilder many = new StringBuilder();
    for (int i = 0; i < 10_000; i++) {
      many.append(Integer.toHexString(i)).append(" 1 1 .\n");
    }
    Path file = folder.resolve("sources/logger.positions");
    Files.createDirectories(file.getParent());
    Files.writeString(file, many, StandardOpenOption.CREATE);
    try (Positions positions = open()) {
      assertThat(positions.of("0")).isPresent(); // asked for, so it is in use
      positions.put("ffff", new Position(2, 2));
      assertThat(List.of(positions.of("0"), positions.of("ffff"))).doesNotContain(Optional.empty());
      assertThat(positions.of("1")).isEmpty();
    }
  }
}

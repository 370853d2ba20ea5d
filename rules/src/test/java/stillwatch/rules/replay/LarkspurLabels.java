package stillwatch.rules.replay;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;

/** What truly happened in the demo recordings. */
public final class LarkspurLabels {
  private LarkspurLabels() {}

  public static Instant wentFlat() throws IOException {
    return from("low-plateau.csv.gz", "went-flat");
  }

  static Instant leakFast() throws IOException {
    return from("leak.csv.gz", "leak-fast");
  }

  private static Instant from(String recording, String what) throws IOException {
    return Files.readAllLines(Path.of("../demo-data/larkspur/labels.csv")).stream()
        .map(line -> line.split(",", -1))
        .filter(cells -> cells[0].equals(recording) && cells[3].equals(what))
        .map(cells -> Instant.parse(cells[1]))
        .findFirst()
        .orElseThrow();
  }
}

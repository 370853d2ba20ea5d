package stillwatch.rules.replay;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;

/** What truly happened in the demo recordings. */
public final class LarkspurLabels {
  /** One happening. */
  record Label(String recording, Instant from, Instant to, String what) {}

  private LarkspurLabels() {}

  static List<Label> all() throws IOException {
    return Files.readAllLines(Path.of("../demo-data/larkspur/labels.csv")).stream()
        .skip(1)
        .map(line -> line.split(",", -1))
        .map(c -> new Label(c[0], Instant.parse(c[1]), Instant.parse(c[2]), c[3]))
        .toList();
  }

  /** When a happening began. */
  public static Instant from(String recording, String what) throws IOException {
    return all().stream()
        .filter(l -> l.recording().equals(recording) && l.what().equals(what))
        .map(Label::from)
        .findFirst()
        .orElseThrow();
  }
}

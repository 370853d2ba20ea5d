package stillwatch.bench.dangers;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Telemetry;

/**
 * A scene as a recording of the demo plan's layout. What people explain is not in it, for they
 * answer alarms.
 *
 * @param seconds the second in which each row was received
 */
record Written(List<Integer> seconds) {
  private static final long TEN_THOUSANDTHS = 10_000;

  /**
   * Writes it.
   *
   * @param received whether the rows say when they were received
   */
  static Written to(Path file, Scene scene, boolean received) throws IOException {
    Player player = new Player(scene);
    List<Integer> seconds = new ArrayList<>();
    try (BufferedWriter out = Files.newBufferedWriter(file)) {
      out.write("time,received," + String.join(",", player.columns().ids()) + ",operation\n");
      player.play(
          entry -> {
            try {
              String row = row(entry, player.columns().size());
              if (!row.isEmpty()) {
                String at = Instant.ofEpochMilli(entry.atMs()).toString();
                String came =
                    received ? Instant.ofEpochMilli(Scene.ms(player.nowS())).toString() : "";
                out.write(at + "," + came + row + "\n");
                seconds.add(player.nowS());
              }
            } catch (IOException e) {
              throw new UncheckedIOException(e);
            }
          },
          () -> {});
    }
    return new Written(seconds);
  }

  private static String row(Telemetry entry, int columns) {
    if (entry instanceof Frame frame) {
      StringBuilder cells = new StringBuilder();
      for (double value : frame.values()) {
        cells.append(',');
        if (!Double.isNaN(value)) {
          cells.append((double) Math.round(value * TEN_THOUSANDTHS) / TEN_THOUSANDTHS);
        }
      }
      return cells.append(',').toString();
    }
    String told = told(entry);
    return told.isEmpty() ? "" : ",".repeat(columns + 1) + '"' + told + '"';
  }

  private static String told(Telemetry entry) {
    if (entry instanceof Operation o) {
      return o.what().wire() + ": " + (o.gauge().isEmpty() ? "" : o.gauge() + "; ") + o.text();
    }
    if (entry instanceof Observation o) {
      return "observation: %s; %s; %s; %s"
          .formatted(o.means(), o.result().wire(), o.by(), o.text());
    }
    if (entry instanceof Decision d) {
      return "decision: %s; %s; %s".formatted(d.choice().wire(), d.by(), d.why());
    }
    return "";
  }
}

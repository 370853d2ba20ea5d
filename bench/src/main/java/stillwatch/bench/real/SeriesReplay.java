package stillwatch.bench.real;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.replay.Replay;

/** Replays a series from a file, as anybody would, with a plan at the catalogue's own limits. */
final class SeriesReplay {
  private static final String GAUGE =
      "- {id: %s, kind: pressure, where: x, unit: Pa, period: %d s, range: {low: 1 bar, high: 690 bar}, accuracy: 20 kPa, resolution: 0 Pa%s}%n";

  private SeriesReplay() {}

  /**
   * What was raised.
   *
   * @param more what a gauge's line in the plan says besides, by gauge, for example {@code , role:
   *     shut-in}
   */
  static List<Alarm> replay(Series series, Map<String, String> more, RuleBook book) {
    try {
      Path folder = Files.createTempDirectory("stillwatch-real");
      try {
        Path file = Files.writeString(folder.resolve("plan.yaml"), plan(series, more));
        Plan plan = PlanLoader.load(file, book.catalogue());
        Path rows = Files.writeString(folder.resolve(series.name() + ".csv"), series.csv());
        List<Finding> told = new ArrayList<>();
        try (RecordingFeed feed = RecordingFeed.open(rows, plan.recordings(), new Problems())) {
          Replay.run(plan, book, feed, told::add);
        }
        Files.delete(rows);
        Files.delete(file);
        return alarms(told);
      } finally {
        Files.delete(folder);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write a temporary recording", e);
    }
  }

  private static List<Alarm> alarms(List<Finding> told) {
    Set<String> over = new HashSet<>();
    told.stream().filter(Finding::returned).forEach(f -> over.add(f.id()));
    return told.stream()
        .filter(f -> !f.returned())
        .map(f -> new Alarm(f, !over.contains(f.id())))
        .toList();
  }

  private static String plan(Series series, Map<String, String> more) {
    String gauges =
        series.values().keySet().stream()
            .map(id -> GAUGE.formatted(id, series.everyS(), more.getOrDefault(id, "")))
            .collect(Collectors.joining());
    String columns =
        series.values().keySet().stream()
            .map(id -> id + ": " + id)
            .collect(Collectors.joining(", "));
    return """
        plan: 1
        well: real
        name: real
        revision: "1"
        gauges:
        %s
        bands: {intact-low: 2 bar, leak-high: 1 bar, ceiling: 690 bar}
        test: {phases: [watching], hold-point-every: 6 h, length: 48 h}
        recordings:
          shape: wide
          time: {column: timestamp, format: rfc3339, zone: UTC}
          columns: {%s}
        """
        .formatted(gauges, columns);
  }
}

package stillwatch.bench.dangers;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.watch.WellWatch;

/**
 * What the rules said of a scene, in the order of saying.
 *
 * @param said what was raised
 * @param told each finding as it came, those over too
 */
record Story(List<RaisedAlarm> said, List<Told> told) {
  /**
   * A finding as it came.
   *
   * @param atS the second in which a reader of the log could know it, whatever the finding says
   */
  record Told(Finding finding, double atS) {}

  /** Lets a scene's log pass before the rules. */
  static Story of(Scene scene, RuleBook book) {
    Plan plan = scene.plan.load(book);
    return of(scene.withoutReception ? recorded(scene, plan, book) : played(scene, plan, book));
  }

  private static Story of(List<Told> told) {
    Map<String, Double> returned = new HashMap<>();
    for (Told t : told) {
      if (t.finding().returned()) {
        returned.put(t.finding().id(), t.atS());
      }
    }
    List<RaisedAlarm> said = new ArrayList<>();
    for (Told t : told) {
      if (!t.finding().returned()) {
        double over = returned.getOrDefault(t.finding().id(), Double.POSITIVE_INFINITY);
        said.add(new RaisedAlarm(t.finding(), t.finding().about(), t.atS(), over));
      }
    }
    return new Story(said, told);
  }

  private static List<Told> played(Scene scene, Plan plan, RuleBook book) {
    List<Told> told = new ArrayList<>();
    Player player = new Player(scene);
    try (WellWatch watch = new WellWatch(plan, book, f -> told.add(new Told(f, player.nowS())))) {
      player.play(watch::accept, () -> explain(player.nowS(), watch, told));
    }
    return told;
  }

  private static void explain(int nowS, WellWatch watch, List<Told> told) {
    List<String> changes =
        told.stream().map(t -> t.finding().change()).filter(Objects::nonNull).distinct().toList();
    long now = Scene.ms(nowS);
    for (String change : changes) {
      watch.accept(
          new Explanation(
              Scene.WELL,
              now,
              now,
              change,
              Explanation.Cause.OPERATION,
              "a sampling line was opened and not logged",
              "shift lead"));
    }
  }

  /** From a file that does not say when its rows were received. */
  private static List<Told> recorded(Scene scene, Plan plan, RuleBook book) {
    List<Told> told = new ArrayList<>();
    try {
      Path file = Files.createTempFile("stillwatch-dangers", ".csv");
      List<Integer> seconds = Written.to(file, scene, false).seconds();
      int[] row = {-1};
      try (RecordingFeed feed = RecordingFeed.open(file, plan.recordings(), new Problems());
          WellWatch watch =
              new WellWatch(
                  plan, book, f -> told.add(new Told(f, seconds.get(Math.max(0, row[0])))))) {
        for (Telemetry entry = feed.next(); entry != null; entry = feed.next()) {
          row[0] += entry instanceof Pulse ? 0 : 1;
          watch.accept(entry);
        }
      }
      Files.delete(file);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write a temporary recording", e);
    }
    return told;
  }
}

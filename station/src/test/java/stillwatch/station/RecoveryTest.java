package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.TreeSet;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.alerts.journal.Journal;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.replay.Replay;

/** A watch that is killed again and again during a drill. */
class RecoveryTest {
  private static final Path PLAN = WatchProcess.LARKSPUR.resolve("plan.yaml");
  private static final Path RECORDING = WatchProcess.LARKSPUR.resolve("sick-gauge.csv.gz");
  private static final int KILLS = Integer.getInteger("stillwatch.kills", 4);

  @TempDir Path data;

  private WatchProcess start() throws IOException {
    return WatchProcess.drill(data, "sick-gauge.csv.gz", "1500", "--open", "--http", "0");
  }

  /** What the rules say of an undisturbed run: the replay, in order. */
  private static List<String> undisturbed() throws IOException {
    RuleBook book = RuleBook.forPlan(PLAN);
    Plan plan = PlanLoader.load(PLAN, book.catalogue());
    List<String> said = new ArrayList<>();
    try (RecordingFeed feed = RecordingFeed.open(RECORDING, plan.recordings(), new Problems())) {
      Replay.run(
          plan, book, feed, f -> said.add((f.returned() ? "returned " : "raised ") + f.id()));
    }
    return said;
  }

  private List<String> journalled() {
    try (Journal journal = Journal.inFolder(data)) {
      return journal.transaction(
          c -> {
            List<String> lines = new ArrayList<>();
            try (var s =
                    c.prepareStatement(
                        "select what, subject from entry where what in ('raised', 'returned')"
                            + " and subject in (select id from alarm where rule not in ('watch-lost', 'route-failing')) order by seq");
                var r = s.executeQuery()) {
              while (r.next()) {
                lines.add(r.getString(1) + " " + r.getString(2));
              }
            }
            return lines;
          });
    }
  }

  @Test
  @Timeout(value = 600, unit = TimeUnit.SECONDS)
  void noAlertIsLostAndNoneIsTakenTwice() throws Exception {
    long seed = System.nanoTime();
    Random random = new Random(seed);
    for (int kill = 0; kill < KILLS; kill++) {
      try (WatchProcess watch = start()) {
        boolean started = kill % 2 == 1; // every other one is killed at some moment of its start
        assertThat(
                (started ? watch.listening() : watch)
                    .endsWithin(random.nextInt(started ? 2500 : 6000)))
            .as("ended by itself, seed %d", seed)
            .isFalse();
        watch.kill();
      }
    }
    try (WatchProcess watch = start().listening()) {
      List<String> expected = undisturbed();
      watch.state(
          s -> s.path("mode").asText().endsWith("over") && rulesAreThrough(watch, expected.size()));
      watch.stop();
      assertThat(journalled())
          .as("seed %d", seed)
          .hasSameElementsAs(expected)
          .doesNotHaveDuplicates();
      assertThat(new TreeSet<>(expected)).as("the drill says something").hasSizeGreaterThan(4);
    }
  }

  @Test
  @Timeout(value = 120, unit = TimeUnit.SECONDS)
  void aSecondWatchOnTheSameFolderIsRefusedAndTheFirstGoesOn() throws Exception {
    try (WatchProcess first = start().listening();
        WatchProcess second = start()) {
      assertThat(second.exit()).isEqualTo(2);
      first.state(s -> s.path("alarms").size() > 0);
    }
  }

  @Test
  @Timeout(value = 180, unit = TimeUnit.SECONDS)
  void aDrillIsTakenUpAgainAfterWhatPeopleEnteredLast() throws Exception {
    String[] options = {"--open", "--http", "0"};
    try (WatchProcess watch =
        WatchProcess.drill(data, "sick-gauge.csv.gz", "20000", options).listening()) {
      watch.state(s -> s.path("mode").asText().endsWith("over"));
      watch.act("/api/operations", "{\"what\":\"valve\",\"text\":\"a valve was tested\"}");
      watch.stop();
    }
    try (WatchProcess watch =
        WatchProcess.drill(data, "sick-gauge.csv.gz", "20000", options).listening()) {
      watch.state(s -> s.path("last_operation").path("text").asText().equals("a valve was tested"));
    }
  }

  @Test
  @Timeout(value = 120, unit = TimeUnit.SECONDS)
  void aBadPlanLeavesNothingBehind() throws Exception {
    Path folder = data.resolve("none");
    try (WatchProcess watch =
        WatchProcess.start("watch", "--plan", RECORDING.toString(), "--data", folder.toString())) {
      assertThat(watch.exit()).isEqualTo(2);
      assertThat(folder).doesNotExist();
    }
  }

  /**
   * The last word of the rules is taken: an undisturbed run says so many things, or nothing more
   * comes for a while.
   */
  private static boolean rulesAreThrough(WatchProcess watch, int said) {
    try {
      var state = watch.get("/api/state");
      int words = 0;
      for (String list : List.of("alarms", "over")) {
        for (var alarm : state.path(list)) {
          words += alarm.has("returned") ? 2 : 1;
        }
      }
      return words >= said;
    } catch (IOException e) {
      return false;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return true;
    }
  }
}

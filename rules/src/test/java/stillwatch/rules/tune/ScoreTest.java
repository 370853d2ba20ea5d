package stillwatch.rules.tune;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.watch.CapturedRun;
import stillwatch.rules.watch.RuleTrials.Raise;

/** Scores worked out by hand. */
class ScoreTest {
  private static final long HOUR = 3_600_000;

  @TempDir Path folder;

  private final RuleEntry drop = Catalogue.shipped().rule("sudden-drop").orElseThrow();

  @Test
  void seenMissedLateAndFalseAreCountedAgainstTheLabels() {
    List<Label> labels =
        List.of(
            new Label("r", 10 * HOUR, 11 * HOUR, "leak-fast"),
            new Label("r", 13 * HOUR, 14 * HOUR, "leak-fast"),
            new Label("r", 16 * HOUR, 17 * HOUR, "leak-fast"),
            new Label("r", 18 * HOUR, 19 * HOUR, "leak-slow"));
    Run run = new Run("r", new CapturedRun(), labels, 0, 20 * HOUR);
    Score score =
        Score.of(
            drop,
            run,
            List.of(
                new Raise("cap", 0, 5 * HOUR), // nothing there: false
                new Raise("cap", 0, 10 * HOUR + 7_000), // seen after 7 s
                new Raise("cap", 0, 13 * HOUR + 100_000), // later than the 30 s promised
                new Raise("cap", 0, 18 * HOUR + 1), // not its happening, but excused
                new Raise("cap", 0, 19 * HOUR + 1_200_000))); // too long after: false

    assertThat(score.happenings()).isEqualTo(3);
    assertThat(score.missed()).isEqualTo(1);
    assertThat(score.late()).isEqualTo(1);
    assertThat(score.delaysS()).containsExactly(7.0, 100.0);
    assertThat(score.falseAlerts()).isEqualTo(2);
    assertThat(score.soundHours()).isBetween(15.9, 16.1);
    assertThat(score.falsePer30Days()).isBetween(89.0, 91.0);
  }

  @Test
  void aPlantedLeakLosesWhatItSays() {
    assertThat(new RecordingWithLeak.Leak(50, 0).lost(600_000)).isBetween(49.999, 50.0);
    assertThat(new RecordingWithLeak.Leak(0, 100).lost(HOUR / 2)).isEqualTo(50);
    assertThat(new RecordingWithLeak.Leak(50, 0).lost(-1)).isZero();
  }

  @Test
  void wrongLabelsAreToldAllAtOnceWithTheirLines() throws IOException {
    Path file =
        Files.writeString(
            folder.resolve("labels.csv"),
            """
            recording,from,to,what,gauges
            a.csv,2026-01-01T00:00:00Z,2026-01-01T01:00:00Z,leak-fsat,
            b.csv,yesterday,2026-01-01T01:00:00Z,leak-fast,
            c.csv,2026-01-01T02:00:00Z,2026-01-01T01:00:00Z,leak-fast,
            """);
    assertThatThrownBy(() -> Labels.read(file, Catalogue.shipped()))
        .isInstanceOf(LabelException.class)
        .hasMessageContaining("labels.csv:2: no rule knows the happening 'leak-fsat'")
        .hasMessageContaining("labels.csv:3: 'yesterday' is no time")
        .hasMessageContaining("labels.csv:4: 'from' must be before 'to'");
  }
}

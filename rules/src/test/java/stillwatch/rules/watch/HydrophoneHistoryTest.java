package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.well.HydrophoneLevels;

/** Ten-minute means of what a hydrophone hears, against the same means taken at once. */
class HydrophoneHistoryTest {
  private static final long START = 1_772_967_600_000L;
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped());

  private final Gauges gauges = new Gauges();
  private final HydrophoneHistory history =
      new HydrophoneHistory(Objects.requireNonNull(PLAN.facts()).hydrophones());

  HydrophoneHistoryTest() {
    gauges.start(PLAN, START);
  }

  /** Looks every ten seconds, HY-1 at this level. */
  private void hear(int fromS, int toS, double level) {
    WatchedGauge ear = Objects.requireNonNull(gauges.get("HY-1"));
    for (int s = fromS; s < toS; s += 10) {
      long nowMs = START + s * 1000L;
      ear.track.accept(nowMs - 5000, nowMs - 5000, level, Quality.GOOD.code());
      ear.track.accept(nowMs, nowMs, level, Quality.GOOD.code());
      history.look(gauges, s / 3600.0, nowMs);
    }
  }

  @Test
  void eachTenMinutesIsTheMeanOfWhatWasHeardInThem() {
    assertThat(history.heard()).isEmpty();
    hear(0, 600, 96);
    hear(600, 900, 96);
    hear(900, 1200, 102);
    hear(1200, 1210, 102);
    List<HydrophoneLevels.Level> levels = only().levels();
    assertThat(levels).hasSize(2);
    assertThat(levels.get(0).level()).isCloseTo(96, within(1e-9));
    assertThat(levels.get(0).clock()).as("when it ended").isCloseTo(1 / 6.0, within(1e-9));
    assertThat(levels.get(1).level())
        .as("half and half, the median of five settles")
        .isCloseTo(99, within(0.5));
    assertThat(only().quietest(0)).isCloseTo(96, within(1e-9));
    assertThat(only().quietest(0.1)).as("begun after").isCloseTo(99, within(0.5));
  }

  @Test
  void theNewestSixHoursAreKept() {
    for (int slot = 0; slot < 50; slot++) {
      hear(600 * slot, 600 * (slot + 1), 90 + slot);
    }
    hear(30_000, 30_010, 60);
    assertThat(only().levels()).hasSize(36);
    assertThat(only().levels().get(35).level()).isCloseTo(139, within(0.5));
  }

  @Test
  void tenMinutesHardlyHeardAreLeftOut() {
    hear(0, 90, 96);
    hear(600, 1200, 100);
    hear(1200, 1210, 100);
    assertThat(only().levels()).hasSize(1);
    assertThat(only().levels().get(0).level()).isCloseTo(100, within(0.5));
  }

  @Test
  void aHydrophoneNobodyTrustsIsNotHeard() {
    Objects.requireNonNull(gauges.get("HY-1")).against.add("some-rule");
    hear(0, 1210, 96);
    assertThat(history.heard()).isEmpty();
  }

  private HydrophoneLevels only() {
    assertThat(history.heard()).hasSize(1);
    return history.heard().get(0);
  }
}

package stillwatch.alerts.series;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import stillwatch.alerts.HandSetClock;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/** What the page shows when clocks are wrong. */
class WellPictureTest {
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped());
  private static final long HOUR_MS = 3_600_000;
  private static final long START_MS = 1_772_949_600_000L; // 2026-03-08T06:00:00Z

  private final WellPicture picture =
      new WellPicture(PLAN, new HandSetClock("2026-03-08T12:00:00Z"), true);

  private void reads(long atMs, long receivedMs, double kPa) {
    picture.accept(Frame.good(PLAN.well(), atMs, receivedMs, GaugeSet.of("PT-1"), kPa));
  }

  private double shown() {
    return picture.lastWord("PT-1").orElseThrow().value();
  }

  @Test
  void aReadingFromTheFutureHidesNoneThatFollowsIt() {
    reads(START_MS, START_MS, 45_000);
    reads(START_MS + 24 * HOUR_MS, START_MS + 1000, 1);
    assertThat(shown()).isEqualTo(45_000);
    reads(START_MS + 2000, START_MS + 2000, 45_002);
    assertThat(shown()).isEqualTo(45_002);
    assertThat(picture.columns(List.of("PT-1"), 0, 100).lows().get("PT-1"))
        .contains(45_000, 45_002)
        .doesNotContain(1);
  }

  @Test
  void aClockSetBackAnHourStopsTheNewestValueForAMinuteOnly() {
    reads(START_MS, START_MS, 45_000);
    for (int s = 1; s <= 61; s++) {
      assertThat(shown()).isEqualTo(45_000);
      reads(START_MS + s * 1000L - HOUR_MS, START_MS + s * 1000L, 45_000 + s);
    }
    assertThat(shown()).isEqualTo(45_061);
  }

  @Test
  void aMachinesClockSetBackAnHourHidesNoSilence() {
    HandSetClock clock = new HandSetClock("2026-03-08T06:00:00Z");
    WellPicture live = new WellPicture(PLAN, clock, false);
    live.accept(Frame.good(PLAN.well(), START_MS, START_MS, GaugeSet.of("PT-1"), 45_000));
    clock.forward(Duration.ofHours(-1));
    live.accept(Frame.good(PLAN.well(), START_MS, START_MS + 1000, GaugeSet.of("PT-1"), 45_000));
    clock.forward(Duration.ofSeconds(40));
    assertThat(live.frameAgeMs()).contains(40_000L);
    assertThat(live.entryAgeMs()).isEqualTo(40_000);
  }

  @Test
  void aBacklogBehindLiveReadingsIsNeverTheNewestValue() {
    for (int s = 0; s < 200; s++) {
      reads(START_MS + s * 1000L, START_MS + s * 1000L, 45_000 + s);
      reads(START_MS + s * 1000L - HOUR_MS, START_MS + s * 1000L, 44_000);
      assertThat(shown()).isEqualTo(45_000 + s);
    }
  }
}

package stillwatch.rules.leaving;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.WeatherForecast;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/**
 * The hours against the window, reckoned by hand from the demo plan: its units take 16, 20 and 12 h
 * to connect and collect 30, 36 and 24 h after the weather.
 */
class HoursNeededTest {
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped());
  private static final long NOW_MS = ms("2026-03-08T08:00:00Z");
  private static final WeatherForecast GALE =
      new WeatherForecast(
          "w",
          NOW_MS,
          NOW_MS,
          WeatherForecast.Certainty.LIKELY,
          ms("2026-03-09T18:00:00Z"),
          ms("2026-03-10T06:00:00Z"),
          "N. Berg",
          "");

  private static long ms(String at) {
    return Instant.parse(at).toEpochMilli();
  }

  private static HoursNeeded testEnding(String end) {
    return HoursNeeded.of(NOW_MS, GALE, Optional.of(ms(end)), PLAN.reopening());
  }

  @Test
  void theRestOfTheTestAndTheSlowestUnitMustFitIntoTheWindow() {
    HoursNeeded fits = testEnding("2026-03-08T21:00:00Z"); // 13 h + 20 h of 34 h
    assertThat(fits.window()).isEqualTo(Duration.ofHours(34));
    assertThat(fits.slowest())
        .map(Reopening.CollectionUnit::name)
        .contains("collection vessel west");
    assertThat(fits.needed()).contains(Duration.ofHours(33));
    assertThat(fits.spare()).contains(Duration.ofHours(1));
    assertThat(fits.connectByMs()).contains(ms("2026-03-08T22:00:00Z"));
    assertThat(testEnding("2026-03-09T00:30:00Z").spare()).contains(Duration.ofMinutes(-150));
  }

  @Test
  void aTestThatIsOverNeedsNoHoursAndAWindowThatIsShutHasNone() {
    assertThat(testEnding("2026-03-08T07:00:00Z").needed()).contains(Duration.ofHours(20));
    HoursNeeded within =
        HoursNeeded.of(ms("2026-03-09T20:00:00Z"), GALE, Optional.empty(), Optional.empty());
    assertThat(within.window()).isZero();
    assertThat(within.needed()).as("nothing is known of test or units").isEmpty();
    assertThat(within.allBackMs()).isEqualTo(GALE.toMs());
  }

  @Test
  void everyUnitIsBackWhenTheLastOneCollectsAgain() {
    HoursNeeded hours = testEnding("2026-03-08T21:00:00Z");
    assertThat(hours.units().stream().map(hours::backMs))
        .containsExactly(
            Optional.of(ms("2026-03-11T12:00:00Z")),
            Optional.of(ms("2026-03-11T18:00:00Z")),
            Optional.of(ms("2026-03-11T06:00:00Z")));
    assertThat(hours.allBackMs()).isEqualTo(ms("2026-03-11T18:00:00Z"));
  }

  @Test
  void theHoldPointsFromTheWeatherUntilEveryUnitIsBackAreNamed() {
    HoursNeeded hours = testEnding("2026-03-08T21:00:00Z");
    List<Long> every24 =
        hours.holdPoints(Optional.of(ms("2026-03-08T18:00:00Z")), Duration.ofHours(24));
    assertThat(every24)
        .as("both ends count")
        .containsExactly(
            ms("2026-03-09T18:00:00Z"), ms("2026-03-10T18:00:00Z"), ms("2026-03-11T18:00:00Z"));
    assertThat(hours.holdPoints(Optional.of(ms("2026-03-08T20:00:00Z")), Duration.ofHours(30)))
        .containsExactly(ms("2026-03-10T02:00:00Z"), ms("2026-03-11T08:00:00Z"));
    assertThat(hours.holdPoints(Optional.empty(), Duration.ofHours(6))).isEmpty();
  }
}

package stillwatch.rules.leaving;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.WeatherForecast;

/** Who watches from shore, as the log tells it. */
class LeavingTest {
  private final Leaving leaving = new Leaving();

  private static Attendance shore(long atMs, String by) {
    return new Attendance("w", atMs, atMs, Attendance.From.SHORE, by, "radio");
  }

  private static Attendance site(long atMs) {
    return new Attendance("w", atMs, atMs, Attendance.From.SITE, "A. Berg", "");
  }

  private static Observation seen(long atMs) {
    return new Observation("w", atMs, atMs, "satellite", Observation.Result.CLEAR, "", "");
  }

  @Test
  void anAbsenceLastsFromTheFirstWordFromShoreUntilSomebodyTakesOverOnSite() {
    leaving.accept(site(1));
    leaving.accept(seen(2));
    assertThat(leaving.all()).isEmpty();
    leaving.accept(shore(10, "N. Berg"));
    leaving.accept(seen(11));
    leaving.accept(new Pulse("w", 12, 12));
    leaving.accept(shore(20, "M. Rode"));
    assertThat(leaving.ashore()).contains(shore(20, "M. Rode"));
    assertThat(leaving.now()).map(Absence::fromMs).contains(10L);
    assertThat(leaving.now()).map(Absence::confirmedMs).contains(20L);
    leaving.accept(site(30));
    leaving.accept(seen(31));
    assertThat(leaving.now()).isEmpty();
    assertThat(leaving.ashore()).isEmpty();
    assertThat(leaving.all())
        .singleElement()
        .satisfies(
            a -> {
              assertThat(a.toMs()).contains(30L);
              assertThat(a.entries()).containsExactly(seen(11), shore(20, "M. Rode"));
            });
    leaving.accept(shore(40, "N. Berg"));
    assertThat(leaving.all()).hasSize(2).last().satisfies(a -> assertThat(a.entries()).isEmpty());
  }

  @Test
  void aWordStampedAheadOfItsReceptionCountsFromThere() {
    leaving.accept(new Attendance("w", 900, 10, Attendance.From.SHORE, "N. Berg", "radio"));
    assertThat(leaving.now()).map(Absence::fromMs).contains(10L);
  }

  @Test
  void theNewestForecastAndTheNewestAnswerCount() {
    WeatherForecast gale =
        new WeatherForecast("w", 1, 1, WeatherForecast.Certainty.POSSIBLE, 50, 60, "N. Berg", "");
    WeatherForecast none =
        new WeatherForecast("w", 2, 2, WeatherForecast.Certainty.UNLIKELY, 50, 60, "N. Berg", "");
    leaving.accept(gale);
    leaving.accept(none);
    assertThat(leaving.forecast()).contains(none);
    assertThat(leaving.forecasts()).containsExactly(gale, none);
    Decision stay = new Decision("w", 3, 3, Decision.Choice.STAY, "deciders", "so", 0);
    leaving.accept(new Decision("w", 2, 2, Decision.Choice.LEAVE, "deciders", "so", 0));
    leaving.accept(stay);
    leaving.accept(new Decision("w", 4, 4, Decision.Choice.CONTINUE, "deciders", "so", 0));
    assertThat(leaving.decided()).contains(stay);
  }
}

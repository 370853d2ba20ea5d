package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.ingest.unit.Kind;

/** How soon it is known how far a gauge swings by itself. */
class SwingsTest {
  private static final long START_MS = 1_772_967_600_000L;

  /** A gauge that swings by 2 kPa about a level; it takes ten spans and a bit to know. */
  @ParameterizedTest
  @CsvSource({"1, 115", "60, 115", "300, 170"})
  void aGaugeThatReadsSeldomNeedsNoLongerThanItsReadingsTake(int periodS, int minutes) {
    Swings swings =
        new Swings(
            new TrackSettings(Kind.PRESSURE, 5000, 103_500, 0.01, 20, new Pace(periodS * 1000L)));
    assertThat(swings.steady()).as("nothing is known").isEqualTo(30);
    for (int s = 0; s < minutes * 60; s += periodS) {
      swings.accept(START_MS + s * 1000L, 45_000 + 2 * Math.sin(s));
    }
    assertThat(swings.steady()).isBetween(0.001, 2.0);
  }
}

package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.rules.indicator.PairIndicator;

/**
 * Two gauges of one place: two of 20 kPa accuracy may stand √(20² + 20²) = 28.3 kPa apart by their
 * makers' word; megapascals are no habit of theirs.
 */
class WatchedPairTest {
  private static final long START = 1_772_967_600_000L;
  private static final double BOUND = Math.sqrt(2) * 20;

  private final Random random = new Random(11);
  private final WatchedGauge first = TestGauges.of("PT-1", "kPa", "cap", START);
  private final WatchedGauge second = TestGauges.of("PT-2", "kPa", "cap", START);
  private final WatchedPair pair = new WatchedPair(first, second, null);
  private long nowMs = START;

  private void run(int minutes, double one, double other) {
    for (int s = 0; s < 60 * minutes; s++) {
      nowMs += 1000;
      read(first, one);
      read(second, other);
      if (nowMs % WellWatch.CADENCE_MS == 0) {
        pair.update(nowMs);
      }
    }
  }

  private void read(WatchedGauge g, double level) {
    double noisy = level + 0.05 * random.nextGaussian();
    g.track.accept(nowMs, nowMs, noisy, Quality.GOOD.code());
  }

  private PairIndicator said() {
    return pair.indicator("larkspur-2", nowMs);
  }

  @Test
  void aSmallDifferenceIsTheirUsualOneAndALargerOneIsTold() {
    run(60, 46_000, 46_015);
    assertThat(pair.known()).isTrue();
    assertThat(pair.agreed()).isTrue();
    assertThat(pair.excess()).isLessThan(1);
    assertThat(pair.bound()).isCloseTo(BOUND, within(0.1));
    run(5, 46_000, 46_115);
    assertThat(said().difference()).isCloseTo(-115, within(1.0));
    assertThat(pair.excess()).isGreaterThan(BOUND);
    assertThat(pair.agreed()).as("they have agreed before").isTrue();
  }

  /** A gauge that was megapascals off from the first reading never agrees. */
  @Test
  void whatStoodFarApartFromTheFirstReadingIsNeverTheirUsualDifference() {
    run(240, 46_000, 42_000);
    assertThat(pair.known()).isTrue();
    assertThat(pair.agreed()).isFalse();
    assertThat(pair.excess()).isCloseTo(4000, within(1.0));
  }

  @Test
  void workOnOneLetsThemLearnAnotherDifference() {
    run(60, 46_000, 46_015);
    pair.learnAnew();
    assertThat(pair.known()).isFalse();
    run(60, 46_000, 45_985);
    assertThat(pair.agreed()).isTrue();
    assertThat(pair.excess()).isLessThan(1);
  }

  @Test
  void aGaugeThatIsSilentIsNotCompared() {
    run(60, 46_000, 46_015);
    double before = said().difference();
    for (int s = 0; s < 60; s++) {
      nowMs += 1000;
      read(first, 45_000 + s);
      assertThat(s > 5 && pair.update(nowMs)).isFalse();
    }
    assertThat(said().difference()).isEqualTo(before);
  }

  @Test
  void eachKnowsWhoIsBesideIt() {
    assertThat(pair.beside(first)).isSameAs(second);
    assertThat(pair.beside(second)).isSameAs(first);
    assertThat(pair.id).isEqualTo("PT-1/PT-2");
  }
}

package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

/**
 * The forecast of the deep-ocean event detector: H. O. Mofjeld, Tsunami Detection Algorithm, NOAA
 * Pacific Marine Environmental Laboratory.
 */
class CubicForecastTest {
  private static final long START_MS = 1_772_967_600_000L;
  private static final long MEAN_MS = 600_000;
  private static final long APART_MS = 3_600_000;
  private static final double[] PUBLISHED = {
    1.16818457031250, -0.28197558593750, 0.14689746093750, -0.03310644531250
  };

  private static CubicForecast hourly() {
    return new CubicForecast(MEAN_MS, APART_MS);
  }

  /** The weights 5.25 minutes after the middle of the newest mean. */
  @Test
  void theWeightsAreThePublishedOnes() {
    double[] nodes = {0, -60, -120, -180};
    double sum = 0;
    double squares = 0;
    for (int i = 0; i < 4; i++) {
      double weight = CubicForecast.weight(i, 5.25, nodes);
      assertThat(weight).isCloseTo(PUBLISHED[i], within(1e-12));
      sum += weight;
      squares += weight * weight;
    }
    assertThat(sum).isCloseTo(1, within(1e-12));
    assertThat(Math.sqrt(squares)).isCloseTo(1.2111319, within(1e-7));
  }

  private static final int[] PERIODS_S = {1, 2, 5, 10, 15, 20, 30, 50, 60, 100, 120};

  /** Any cubic, up to its bend within a mean: f'' times the variance of the mean's times over 2. */
  @Property(tries = 100)
  void anyCubicIsForetold(
      @ForAll @DoubleRange(min = -50, max = 50) double linear,
      @ForAll @DoubleRange(min = -5, max = 5) double square,
      @ForAll @DoubleRange(min = -0.5, max = 0.5) double cube,
      @ForAll @IntRange(min = 0, max = 10) int which) {
    CubicForecast forecast = hourly();
    int periodS = PERIODS_S[which];
    double step = periodS / 3600.0;
    double variance = (1 / 36.0 - step * step) / 12; // of times a step apart over ten minutes
    for (long s = 0; s < 5 * 3600; s += periodS) {
      double h = s / 3600.0;
      forecast.accept(START_MS + s * 1000, 45_000 + h * (linear + h * (square + h * cube)));
      if (s > 3.5 * 3600) {
        double halfBend = square + 3 * cube * h;
        assertThat(forecast.departure()).isCloseTo(-halfBend * variance, within(1e-6));
      }
    }
  }

  /**
   * An M2 tide (28.9841042 degrees an hour) of 500 mm leaves at most 0.81 mm at 5.25 minutes; the
   * means flatten the wave, by up to 0.15 mm more, and the newest tenth lets the distance grow by a
   * minute.
   */
  @Test
  void aTideLeavesLessThanAMillimetre() {
    double[] nodes = {0, -60, -120, -180};
    double speed = Math.toRadians(28.9841042 / 60);
    double most = 0;
    for (double phase = 0; phase < 2 * Math.PI; phase += 0.001) {
      double left = 500 * Math.cos(speed * 5.25 + phase);
      for (int i = 0; i < 4; i++) {
        left -= CubicForecast.weight(i, 5.25, nodes) * 500 * Math.cos(speed * nodes[i] + phase);
      }
      most = Math.max(most, Math.abs(left));
    }
    assertThat(most).isCloseTo(0.81, within(0.005));
    CubicForecast forecast = hourly();
    double mostOfMeans = 0;
    for (long s = 0; s < 30 * 3600; s += 15) {
      forecast.accept(START_MS + s * 1000, 500 * Math.cos(speed * s / 60));
      if (s >= 4 * 3600) {
        mostOfMeans = Math.max(mostOfMeans, Math.abs(forecast.departure()));
      }
    }
    assertThat(mostOfMeans).isLessThan(1.15);
  }

  /** White noise of the reading itself and of four means of 40, amplified 1.21 times. */
  @Test
  void theDepartureOfWhiteNoiseIsHardlyLargerThanTheNoise() {
    Random random = new Random(3);
    CubicForecast forecast = hourly();
    double squares = 0;
    int n = 0;
    for (long s = 0; s < 60 * 3600; s += 15) {
      forecast.accept(START_MS + s * 1000, 45_000 + random.nextGaussian());
      if (s >= 4 * 3600) {
        squares += forecast.departure() * forecast.departure();
        n++;
      }
    }
    double expected = Math.sqrt(1 + 1.22 * 1.22 / 40);
    assertThat(Math.sqrt(squares / n)).isCloseTo(expected, within(0.03));
  }

  @Test
  void aStepIsTheDepartureAtOnce() {
    CubicForecast forecast = hourly();
    for (long s = 0; s < 4 * 3600; s += 10) {
      forecast.accept(START_MS + s * 1000, 45_000);
    }
    assertThat(forecast.departure()).isCloseTo(0, within(1e-9));
    forecast.accept(START_MS + 4 * APART_MS, 44_900);
    assertThat(forecast.departure()).isCloseTo(-100, within(1e-9));
    assertThat(forecast.forecast(START_MS + 4 * APART_MS + 15_000)).isCloseTo(45_000, within(1e-9));
  }

  /** A gauge of five minutes wants longer means; the scheme is the same. */
  @Test
  void aSlowGaugeIsForetoldFromLongerMeans() {
    CubicForecast forecast = new CubicForecast(1_800_000, 3_600_000);
    for (long s = 0; s < 8 * 3600; s += 300) {
      double h = s / 3600.0;
      forecast.accept(START_MS + s * 1000, 45_000 + 30 * h);
      if (h > 4) {
        assertThat(forecast.departure()).isCloseTo(0, within(1e-6));
      }
    }
  }

  @Test
  void nothingIsForetoldBeforeThreeHoursInAGapOrAfterARestart() {
    CubicForecast forecast = hourly();
    long s = 0;
    for (; s < 3 * 3600; s += 10) {
      forecast.accept(START_MS + s * 1000, 45_000);
      assertThat(forecast.departure()).isNaN();
    }
    for (; s < 4 * 3600; s += 10) {
      forecast.accept(START_MS + s * 1000, 45_000);
    }
    assertThat(forecast.departure()).isZero();
    s += 3600;
    forecast.accept(START_MS + s * 1000, 45_000);
    assertThat(forecast.departure()).isNaN(); // the newest mean is empty
    for (long end = s + 600; s < end; s += 10) {
      forecast.accept(START_MS + s * 1000 + 1, 45_000);
    }
    forecast.accept(START_MS + s * 1000 + 1, 45_000);
    assertThat(forecast.departure()).isNaN(); // and later the one an hour before
    forecast.restart();
    assertThat(forecast.departure()).isNaN();
    assertThat(forecast.forecast(START_MS)).isNaN();
    forecast.accept(START_MS + s * 1000 + 2, 45_000);
    assertThat(forecast.departure()).isNaN();
  }

  @Test
  void meansThatDoNotFitTheirSpacingAreRefused() {
    assertThatThrownBy(() -> new CubicForecast(600_000, 500_000))
        .hasMessageContaining("no less than the length");
    assertThatThrownBy(() -> new CubicForecast(600_000, 3_600_001))
        .hasMessageContaining("multiple of its tenth");
    assertThatThrownBy(() -> new CubicForecast(5, 3_600_000)).hasMessageContaining("whole ms");
  }
}

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
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Average run lengths against published tables: Monte Carlo with a fixed seed, the tolerance four
 * standard errors of the mean and half a unit of the last printed digit.
 */
class EwmaTest {
  private record Run(double mean, double error) {}

  /** Run lengths of one chart on values with that shift and that correlation with the last. */
  private static Run averageRunLength(
      Ewma chart, double deviations, double shift, double rho, int runs) {
    Random random = new Random(17);
    double sum = 0;
    double squares = 0;
    for (int r = 0; r < runs; r++) {
      chart.restart();
      double state = random.nextGaussian();
      int n = 0;
      do {
        n++;
        chart.accept(state + shift);
        state = rho * state + Math.sqrt(1 - rho * rho) * random.nextGaussian();
      } while (!chart.beyond(deviations));
      sum += n;
      squares += (double) n * n;
    }
    double mean = sum / runs;
    return new Run(mean, Math.sqrt((squares / runs - mean * mean) / runs));
  }

  private static void check(Run run, double published, double halfDigit) {
    assertThat(run.mean()).isCloseTo(published, within(4 * run.error() + halfDigit));
  }

  /**
   * Two-sided, fixed limits (J. M. Lucas and M. S. Saccucci, Technometrics 32, 1990, 1-12, Table
   * 3).
   */
  @ParameterizedTest
  @CsvSource({
    "0.5, 3.071, 0, 500, 4000",
    "0.5, 3.071, 0.25, 255, 4000",
    "0.5, 3.071, 0.5, 88.8, 10000",
    "0.5, 3.071, 1, 17.5, 20000",
    "0.5, 3.071, 1.5, 6.53, 40000",
    "0.5, 3.071, 2, 3.63, 40000",
    "0.5, 3.071, 3, 1.93, 40000",
    "0.5, 3.071, 5, 1.07, 40000",
    "0.03, 2.437, 0, 500, 4000",
    "0.03, 2.437, 0.25, 76.7, 10000",
    "0.03, 2.437, 0.5, 29.3, 20000",
    "0.03, 2.437, 1, 12.6, 40000",
    "0.03, 2.437, 1.5, 8.07, 40000",
    "0.03, 2.437, 2, 5.99, 40000",
    "0.03, 2.437, 3, 4.03, 40000",
    "0.03, 2.437, 5, 2.55, 40000"
  })
  void runLengthsAreThoseOfLucasAndSaccucci(
      double lambda, double deviations, double shift, double published, int runs) {
    Run run = averageRunLength(Ewma.withFixedLimits(lambda), deviations, shift, 0, runs);
    check(run, published, published > 100 ? 0.5 : published > 10 ? 0.05 : 0.005);
  }

  /**
   * S. V. Crowder, Technometrics 29, 1987, 401-407, Table 1, two deviations; the 3.95 printed for
   * 0.5 at shift 1.25 is a known misprint of 3.59.
   */
  @ParameterizedTest
  @CsvSource({
    "0.5, 0, 26.45",
    "0.5, 1, 4.91",
    "0.5, 1.25, 3.59",
    "0.05, 0, 127.53",
    "0.05, 1, 8.38"
  })
  void runLengthsAreThoseOfCrowder(double lambda, double shift, double published) {
    check(averageRunLength(Ewma.withFixedLimits(lambda), 2, shift, 0, 20_000), published, 0.005);
  }

  /**
   * 11.154267 for 0.25, three deviations and shift 1 (S. Knoth, statistics library spc, manual page
   * of xewma.arl).
   */
  @Test
  void aRunLengthOfManyDigitsIsMetToAHalfPercent() {
    Run run = averageRunLength(Ewma.withFixedLimits(0.25), 3, 1, 0, 400_000);
    assertThat(4 * run.error()).isLessThan(0.06);
    check(run, 11.154267, 0);
  }

  /**
   * Shewhart's chart is the average with weight 1; its run length is 1/p exactly: at three
   * deviations 370.40, 155.22, 43.89, 14.97, 6.30 and 2.00, at two 21.98.
   */
  @ParameterizedTest
  @CsvSource({
    "3, 0, 370.40, 10000",
    "3, 0.5, 155.22, 20000",
    "3, 1, 43.89, 40000",
    "3, 1.5, 14.97, 40000",
    "3, 2, 6.30, 40000",
    "3, 3, 2.00, 40000",
    "3.09, 0, 499.6, 10000",
    "2, 0, 21.98, 40000"
  })
  void withWeightOneItIsShewhartsChart(double deviations, double shift, double exact, int runs) {
    check(averageRunLength(Ewma.withFixedLimits(1), deviations, shift, 0, runs), exact, 0.05);
  }

  /**
   * Values that resemble the one before, AR(1), limit 3.09023 of their own deviation (H. Kramer and
   * W. Schmid, Sequential Analysis 19, 2000, Table 1).
   */
  @ParameterizedTest
  @CsvSource({
    "0.4, 0, 515.44, 10000",
    "0.4, 0.5, 215.48, 20000",
    "0.4, 1, 61.85, 40000",
    "0.4, 2, 9.19, 40000",
    "-0.2, 0, 502.56, 10000",
    "-0.2, 0.5, 201.41, 20000",
    "-0.2, 1, 54.05, 40000",
    "-0.2, 2, 6.89, 40000"
  })
  void correlatedValuesHaveThePublishedRunLengths(
      double rho, double shift, double published, int runs) {
    check(averageRunLength(Ewma.withFixedLimits(1), 3.09023, shift, rho, runs), published, 0.005);
  }

  @Property
  void itIsTheWeightedSumOfAllValuesAndKnowsItsOwnDeviation(
      @ForAll long seed,
      @ForAll @DoubleRange(min = 0.01, max = 1) double lambda,
      @ForAll @IntRange(min = 1, max = 60) int n) {
    double[] z = new Random(seed).doubles(n, -3, 3).toArray();
    Ewma exact = Ewma.withStartUpLimits(lambda);
    double value = 0;
    double variance = 0;
    for (int i = 0; i < n; i++) {
      exact.accept(z[i]);
      double weight = lambda * Math.pow(1 - lambda, n - 1 - i);
      value += weight * z[i];
      variance += weight * weight;
    }
    assertThat(exact.value()).isCloseTo(value, within(1e-12));
    assertThat(exact.sigma()).isCloseTo(Math.sqrt(variance), within(1e-12));
    assertThat(exact.beyond(Math.abs(value) / Math.sqrt(variance) * 0.999)).isTrue();
    assertThat(exact.beyond(Math.abs(value) / Math.sqrt(variance) * 1.001)).isFalse();
  }

  @Test
  void startUpLimitsSeeAnEarlyShiftSooner() {
    Run fixed = averageRunLength(Ewma.withFixedLimits(0.03), 2.437, 2, 0, 10_000);
    Run exact = averageRunLength(Ewma.withStartUpLimits(0.03), 2.437, 2, 0, 10_000);
    assertThat(exact.mean()).isLessThan(fixed.mean() / 2);
  }

  @Test
  void aWeightBeyondReasonIsRefused() {
    for (double lambda : new double[] {0, -0.1, 1.01, Double.NaN}) {
      assertThatThrownBy(() -> Ewma.withFixedLimits(lambda))
          .hasMessageContaining("must be over 0 and at most 1");
    }
  }
}

package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;
import org.hipparchus.special.Erf;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.rules.signal.Series.Reading;

/** Medians of any odd size and what tells a wild reading. */
class RobustStatisticsTest {
  private static final double[] SAMPLE = {2.1, 2.3, 2.2, 2.4, 2.2, 9.9, 2.3};

  @Provide
  Arbitrary<List<Reading>> series() {
    return Series.increasing();
  }

  private static double[] newest(List<Reading> series, int i, int size) {
    return series.subList(Math.max(0, i - size + 1), i + 1).stream()
        .mapToDouble(Reading::value)
        .toArray();
  }

  private static double medianOf(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted[(sorted.length - 1) / 2];
  }

  @Property
  void theLevelIsTheMedianOfAsManyAsItIsTold(
      @ForAll("series") List<Reading> series, @ForAll @IntRange(min = 0, max = 5) int reach) {
    int size = 2 * reach + 1;
    RobustLevel level = new RobustLevel(size);
    for (int i = 0; i < series.size(); i++) {
      double[] recent = newest(series, i, size);
      double median = medianOf(recent);
      assertThat(level.accept(series.get(i).value())).isEqualTo(median);
      if (i + 1 >= size) {
        assertThat(level.middleOff()).isEqualTo(recent[reach] - median);
      }
    }
  }

  /** A step is seen on the reading that makes it the majority: first, second, third. */
  @ParameterizedTest
  @CsvSource({"1, 1", "3, 2", "5, 3"})
  void aStepIsSeenAsSoonAsItIsTheMajority(int size, int seenOn) {
    RobustLevel level = new RobustLevel(size);
    for (int i = 0; i < 10; i++) {
      level.accept(46_000);
    }
    for (int i = 1; i <= 5; i++) {
      assertThat(level.accept(45_000)).isEqualTo(i >= seenOn ? 45_000 : 46_000);
    }
  }

  @Test
  void anEvenSizeIsRefused() {
    for (int size : new int[] {-1, 0, 2, 4}) {
      assertThatThrownBy(() -> new RobustLevel(size)).hasMessageContaining("must be odd");
    }
  }

  /** 1/Phi^-1(3/4); Phi^-1(p) = sqrt(2) erfinv(2p - 1). */
  @Test
  void theFactorOfTheMedianDistanceIsThatOfTheNormalLaw() {
    assertThat(Hampel.FROM_MEDIAN_DISTANCE)
        .isCloseTo(1 / (Math.sqrt(2) * Erf.erfInv(0.5)), within(1e-12));
  }

  /** The sample's median is 2.3, its median distance 0.1, scaled 0.14826. */
  @Test
  void aSampleWithOneWildReadingKeepsItsMedianAndItsDeviation() {
    Hampel hampel = new Hampel(3, 3, 0);
    for (double value : SAMPLE) {
      hampel.accept(value);
    }
    assertThat(hampel.median()).isCloseTo(2.3, within(1e-12));
    assertThat(hampel.scale()).isCloseTo(0.1482602218505602, within(1e-12));
  }

  /**
   * x_i = sin(0.1 i), i = 1 to 100, x_20 = 50: the twentieth and no other (the example of a rolling
   * Hampel filter's manual page).
   */
  @Test
  void oneWildReadingInASineIsFoundAndNoOther() {
    Hampel hampel = new Hampel(0);
    for (int i = 1; i <= 100; i++) {
      boolean wild = hampel.accept(i == 20 ? 50 : Math.sin(0.1 * i));
      assertThat(wild).isEqualTo(i == 22); // told two readings late
    }
  }

  /** With a median distance of nothing the test is undefined: a floor, or no reading is wild. */
  @Test
  void aCoarseGaugeThatRepeatsItsValueIsJudgedByTheFloor() {
    Hampel without = new Hampel(0);
    Hampel with = new Hampel(0.5);
    double[] values = {7, 7, 7, 8, 7, 7, 9, 7, 7};
    boolean[] wild = new boolean[values.length];
    for (int i = 0; i < values.length; i++) {
      assertThat(without.accept(values[i])).isFalse();
      wild[i] = with.accept(values[i]);
    }
    // 8 stands one off, within three floors; 9 stands two off, beyond
    assertThat(wild).containsExactly(false, false, false, false, false, false, false, false, true);
  }

  /** With a limit of nothing it is a median filter: what is not the median is replaced by it. */
  @Test
  void withALimitOfNothingWhateverIsNotTheMedianIsWild() {
    Hampel hampel = new Hampel(2, 0, 0);
    double[] values = {1, 2, 5, 4, 3, 6, 7};
    boolean[] wild = new boolean[values.length];
    for (int i = 0; i < values.length; i++) {
      wild[i] = hampel.accept(values[i]);
    }
    // middles 5, 4, 3 against medians 3, 4, 5
    assertThat(wild).containsExactly(false, false, false, false, true, false, true);
  }

  @Test
  void beforeTheWindowIsFullNothingIsWild() {
    Hampel hampel = new Hampel(0.1);
    assertThat(hampel.accept(1)).isFalse();
    assertThat(hampel.accept(1)).isFalse();
    assertThat(hampel.accept(1000)).isFalse();
    assertThat(hampel.accept(1)).isFalse();
    assertThat(hampel.scale()).isNaN();
    assertThat(hampel.accept(1)).isTrue();
  }

  /** A step is not wild: the reading in the middle of the window is on one of its two levels. */
  @Test
  void aStepIsNotWild() {
    Hampel hampel = new Hampel(0.1);
    for (int i = 0; i < 50; i++) {
      assertThat(hampel.accept(i < 25 ? 46_000 : 45_000)).isFalse();
    }
  }

  /**
   * Of Gaussian noise the median distance is 0.6745 deviations, and estimates the deviation with
   * 36.7 % of the efficiency of the standard deviation (asymptotic: P. J. Huber, Robust Statistics,
   * 1981, 5.1, from memory). For 201 readings and 4000 windows the ratio of two variances has a
   * standard error of 2.2 % of each.
   */
  @Test
  void theMedianDistanceHasItsKnownSizeAndEfficiency() {
    Random random = new Random(21);
    int runs = 4000;
    int reach = 100;
    Hampel hampel = new Hampel(reach, 3, 0);
    double[] robust = new double[runs];
    double[] plain = new double[runs];
    for (int run = 0; run < runs; run++) {
      double sum = 0;
      double squares = 0;
      int n = 2 * reach + 1;
      for (int i = 0; i < n; i++) {
        double x = random.nextGaussian();
        hampel.accept(x);
        sum += x;
        squares += x * x;
      }
      robust[run] = hampel.scale() / Hampel.FROM_MEDIAN_DISTANCE;
      plain[run] = Math.sqrt((squares - sum * sum / n) / (n - 1));
    }
    double mean = Arrays.stream(robust).average().orElseThrow();
    assertThat(mean).isCloseTo(0.6745, within(0.005));
    double efficiency = relativeVariance(plain) / relativeVariance(robust);
    assertThat(efficiency).isCloseTo(0.367, within(0.04));
  }

  private static double relativeVariance(double[] values) {
    double mean = Arrays.stream(values).average().orElseThrow();
    return Arrays.stream(values).map(v -> (v / mean - 1) * (v / mean - 1)).sum() / values.length;
  }
}

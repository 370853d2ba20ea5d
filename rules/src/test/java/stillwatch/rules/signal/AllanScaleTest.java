package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.rules.signal.Series.Reading;

/** The usual change of a gauge, against published sets and closed forms. */
class AllanScaleTest {
  private static final long SECOND_MS = 1000;

  /** W. J. Riley, Handbook of Frequency Stability Analysis, NIST SP 1065, 2008, pp. 107-108. */
  private static final double[] NBS14 = {892, 809, 823, 798, 671, 644, 883, 903, 677};

  /** The 1000-point set of the same handbook. */
  private static double[] thousand() {
    double[] values = new double[1000];
    long n = 1_234_567_890;
    for (int i = 0; i < values.length; i++) {
      values[i] = n / 2_147_483_647.0;
      n = 16807 * n % 2_147_483_647;
    }
    return values;
  }

  /** Feeds one value a second, from the one numbered {@code from} on, and closes the last block. */
  private static AllanScale feed(AllanScale scale, double[] values, int from) {
    for (int i = from; i < values.length; i++) {
      scale.accept((i - from) * SECOND_MS, values[i]);
    }
    scale.accept((values.length - from) * SECOND_MS, 0); // begins a block, ends none but the last
    return scale;
  }

  /** ADEV(1) and ADEV(2) of the ten-point set. */
  @Test
  void theTenPointSetHasThePublishedDeviations() {
    assertThat(feed(AllanScale.plain(SECOND_MS), NBS14, 0).deviation())
        .isCloseTo(91.22945, within(5e-6));
    assertThat(feed(AllanScale.plain(2 * SECOND_MS), NBS14, 0).deviation())
        .isCloseTo(115.8082, within(5e-5));
  }

  /** HDEV(1) of the ten-point set: seven second differences, none of them clipped. */
  @Test
  void theSecondDifferencesOfTheTenPointSetHaveThePublishedDeviation() {
    assertThat(feed(AllanScale.robust(SECOND_MS, 100), NBS14, 0).deviation()).isNaN();
    double bend = 3; // an eighth, chosen here and taken off the mean again
    AllanScale eighth = AllanScale.robust(SECOND_MS, 100);
    for (int i = 0; i < NBS14.length; i++) {
      eighth.accept(i * SECOND_MS, NBS14[i]);
    }
    eighth.accept(9 * SECOND_MS, 2 * 677 - 903 + bend);
    eighth.accept(10 * SECOND_MS, 0);
    double ofSeven = (8 * square(eighth.deviation()) - bend * bend / 6) / 7;
    assertThat(Math.sqrt(ofSeven)).isCloseTo(70.80608, within(1e-5)); // to more digits 70.806073
  }

  private static double square(double x) {
    return x * x;
  }

  /** ADEV of the 1000-point set at 1, 10 and 100. */
  @ParameterizedTest
  @CsvSource({"1, 0.2922319", "10, 0.09965736", "100, 0.03897804"})
  void theThousandPointSetHasThePublishedDeviations(int m, double published) {
    assertThat(feed(AllanScale.plain(m * SECOND_MS), thousand(), 0).deviation())
        .isCloseTo(published, within(1e-6));
  }

  /**
   * OADEV of both sets: the overlapping deviation is that of all {@code m} rows of blocks that
   * begin at different values, each weighed by its number of differences.
   */
  @ParameterizedTest
  @CsvSource({"9, 2, 85.95287", "1000, 10, 0.09159953", "1000, 100, 0.03241343"})
  void allRowsTogetherHaveThePublishedOverlappingDeviations(int size, int m, double published) {
    double[] values = size == 9 ? NBS14 : thousand();
    double squares = 0;
    int differences = 0;
    for (int from = 0; from < m; from++) {
      int n = (values.length - from) / m - 1;
      squares += n * square(feed(AllanScale.plain(m * SECOND_MS), values, from).deviation());
      differences += n;
    }
    assertThat(differences).isEqualTo(values.length - 2 * m + 1);
    assertThat(Math.sqrt(squares / differences)).isCloseTo(published, within(published * 1e-6));
  }

  @Provide
  Arbitrary<List<Reading>> series() {
    return Series.increasing();
  }

  @Property
  void itIsThatOfAllWholeBlocksAndAGapBreaksTheRow(@ForAll("series") List<Reading> series) {
    long tau = 60_000;
    AllanScale scale = AllanScale.plain(tau);
    Map<Long, double[]> blocks = new TreeMap<>();
    for (Reading r : series) {
      scale.accept(r.atMs(), r.value());
      double[] b = blocks.computeIfAbsent(Math.floorDiv(r.atMs(), tau), k -> new double[2]);
      b[0] += r.value();
      b[1]++;
    }
    long newest = Math.floorDiv(series.get(series.size() - 1).atMs(), tau);
    double squares = 0;
    int n = 0;
    for (long k : blocks.keySet()) {
      double[] before = blocks.get(k - 1);
      double[] now = blocks.get(k);
      if (k < newest && before != null && now != null) {
        squares += square(now[0] / now[1] - before[0] / before[1]) / 2;
        n++;
      }
    }
    if (n == 0) {
      assertThat(scale.deviation()).isNaN();
    } else {
      double expected = Math.sqrt(squares / n);
      assertThat(scale.deviation()).isCloseTo(expected, within(1e-9 * (1 + expected)));
    }
  }

  /**
   * White noise: that of a mean of 50, both ways. Random walk of variance q a value: √(qτ/3) and
   * √(qτ/6). The bound is four standard errors for 2000 or more differences (3 % each, widened for
   * their correlation).
   */
  @Test
  void whiteNoiseAndARandomWalkHaveTheirClosedForms() {
    AllanScale plainOfWhite = AllanScale.plain(50 * SECOND_MS);
    AllanScale robustOfWhite = AllanScale.robust(50 * SECOND_MS, 2000);
    AllanScale plainOfWalk = AllanScale.plain(50 * SECOND_MS);
    AllanScale robustOfWalk = AllanScale.robust(50 * SECOND_MS, 2000);
    Random random = new Random(11);
    double walk = 46_000;
    for (int i = 0; i < 300_000; i++) {
      double white = 46_000 + 0.05 * random.nextGaussian();
      walk += 0.01 * random.nextGaussian();
      plainOfWhite.accept(i * SECOND_MS, white);
      robustOfWhite.accept(i * SECOND_MS, white + 0.02 * i); // 72 an hour
      plainOfWalk.accept(i * SECOND_MS, walk);
      robustOfWalk.accept(i * SECOND_MS, walk - 0.02 * i);
    }
    double white = 0.05 / Math.sqrt(50);
    assertThat(plainOfWhite.deviation()).isCloseTo(white, within(0.05 * white));
    assertThat(robustOfWhite.deviation()).isCloseTo(white, within(0.1 * white));
    double overAWindow = 0.01 * Math.sqrt(50);
    assertThat(plainOfWalk.deviation())
        .isCloseTo(overAWindow / Math.sqrt(3), within(0.05 * overAWindow / Math.sqrt(3)));
    assertThat(robustOfWalk.deviation())
        .isCloseTo(overAWindow / Math.sqrt(6), within(0.1 * overAWindow / Math.sqrt(6)));
  }

  /** A ramp of D a unit of time gives Dτ/√2 plainly (NIST SP 1065, linear drift) and 0 robustly. */
  @Test
  void aSteadyRampIsNoWander() {
    AllanScale plain = AllanScale.plain(60 * SECOND_MS);
    AllanScale robust = AllanScale.robust(60 * SECOND_MS, 50);
    for (int i = 0; i < 10_000; i++) {
      plain.accept(i * SECOND_MS, 46_000 + 0.01 * i);
      robust.accept(i * SECOND_MS, 46_000 + 0.01 * i);
    }
    assertThat(plain.deviation()).isCloseTo(0.01 * 60 / Math.sqrt(2), within(1e-6));
    assertThat(robust.deviation()).isCloseTo(0, within(1e-6));
  }

  @Test
  void aLeakOfAMegapascalHardlyMovesTheRobustDeviation() {
    AllanScale scale = AllanScale.robust(60 * SECOND_MS, 50);
    Random random = new Random(12);
    for (int i = 0; i < 300 * 60; i++) {
      scale.accept(i * SECOND_MS, 46_000 + 0.05 * random.nextGaussian());
    }
    double before = scale.deviation();
    for (int i = 300 * 60; i < 310 * 60; i++) {
      scale.accept(i * SECOND_MS, 45_000 + 0.05 * random.nextGaussian());
    }
    // three second differences see the step, each adds less than 9 / 50 to the square
    assertThat(scale.deviation()).isBetween(before * 0.8, before * Math.sqrt(1.18 * 1.18 * 1.18));
  }

  @Test
  void aGaugeThatStoodStillIsMeasuredWhenItMoves() {
    AllanScale scale = AllanScale.robust(60 * SECOND_MS, 20);
    for (int i = 0; i < 100; i++) {
      scale.accept(i * 60L * SECOND_MS, 46_000);
    }
    assertThat(scale.deviation()).isZero();
    Random random = new Random(13);
    for (int i = 100; i < 400; i++) {
      scale.accept(i * 60L * SECOND_MS, 46_000 + random.nextGaussian());
    }
    assertThat(scale.deviation()).isCloseTo(1, within(0.5));
  }
}

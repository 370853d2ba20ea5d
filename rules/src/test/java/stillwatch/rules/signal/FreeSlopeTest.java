package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The slope without the tide, and whether its error holds. */
class FreeSlopeTest {
  private static final long START_MS = 1_772_967_600_000L;
  private static final long HOUR_MS = 3_600_000;

  /** M2 of 10 kPa amplitude (28.9841042 degrees an hour; about a metre of tide). */
  private static double sea(double hour) {
    return 14_200 + 10 * Math.cos(Math.toRadians(28.9841042 * hour));
  }

  /** How often the true slope was out of reach, and what was said last. */
  private static final class Tally {
    private int said;
    private int outside;
    private double worst;
    private double errors;

    void add(FreeSlope slope, double truth) {
      double off = Math.abs(slope.slopePerHour() - truth) / slope.slopeError();
      said++;
      outside += off > 2 ? 1 : 0;
      worst = Math.max(worst, off);
      errors += slope.slopeError();
    }
  }

  /** Half hours to shift the tide by, over a whole cycle. */
  private static final int PHASES = 24;

  private static Tally overAllPhases(
      int horizonHours,
      int periodS,
      double noise,
      double fromHour,
      double toHour,
      double share,
      boolean withAmbient,
      double perHour) {
    Tally tally = new Tally();
    for (int phase = 0; phase < PHASES; phase++) {
      FreeSlope slope = new FreeSlope(horizonHours * HOUR_MS, 0.01);
      Random random = new Random(phase);
      double before = Double.NaN;
      for (double s = 0; s < toHour * 3600; s += periodS) {
        double hour = s / 3600;
        double tide = sea(hour + phase * 0.5175);
        slope.accept(
            START_MS + (long) (s * 1000),
            45_000 + perHour * hour + share * (tide - 14_200) + noise * random.nextGaussian(),
            withAmbient ? tide + 0.02 * random.nextGaussian() : Double.NaN);
        if (hour >= fromHour && slope.slopePerHour() != before) {
          before = slope.slopePerHour();
          tally.add(slope, perHour);
        }
      }
    }
    return tally;
  }

  /** A flat level, a whole one, a half and none of the tide in it. */
  @ParameterizedTest
  @CsvSource({
    "1, 10, 1",
    "1, 10, 0.5",
    "1, 10, 0",
    "1, 300, 1",
    "3, 10, 1",
    "3, 10, 0",
    "3, 300, 1"
  })
  void withAnAmbientPressureAFlatLevelIsFlatWithinTwoErrorsOverAllPhases(
      int horizonHours, int periodS, double share) {
    Tally tally = overAllPhases(horizonHours, periodS, 0.05, horizonHours, 24, share, true, 0);
    assertThat(tally.outside / (double) tally.said).isLessThan(0.03);
    assertThat(tally.worst).isLessThan(3.5);
    Tally afterANight = overAllPhases(horizonHours, periodS, 0.05, 18, 24, share, true, 0);
    assertThat(afterANight.errors / afterANight.said).isLessThan(0.15); // of a tide of 5 kPa/h
  }

  @ParameterizedTest
  @CsvSource({"1, 10, 1", "1, 10, 0", "3, 10, 1", "3, 10, 0.3", "3, 300, 1"})
  void withoutOneTheErrorAllowsForTheTideUntilTheTideIsKnown(
      int horizonHours, int periodS, double share) {
    Tally early = overAllPhases(horizonHours, periodS, 0.05, horizonHours, 9, share, false, 0);
    assertThat(early.outside).isZero();
    assertThat(early.errors / early.said).isBetween(2.5, 3.2);
    Tally late = overAllPhases(horizonHours, periodS, 0.05, 30, 40, share, false, 0);
    assertThat(late.outside / (double) late.said).isLessThan(0.05);
    assertThat(late.errors / late.said).isLessThan(0.75);
  }

  @ParameterizedTest
  @CsvSource({"1, true", "3, true", "1, false", "3, false"})
  void aDeclineOfTwentyKilopascalsAnHourIsSeenThroughTheTide(
      int horizonHours, boolean withAmbient) {
    Tally tally = overAllPhases(horizonHours, 10, 0.05, horizonHours, 24, 1, withAmbient, -20);
    assertThat(tally.outside / (double) tally.said).isLessThan(0.03);
    assertThat(tally.errors / tally.said).isLessThan(4);
  }

  /** Noise of 3 kPa: a tenth of the decline above, and no reason to call a flat level moving. */
  @ParameterizedTest
  @ValueSource(ints = {1, 3})
  void aNoisyGaugeIsFlatToo(int horizonHours) {
    Tally tally = overAllPhases(horizonHours, 10, 3, horizonHours, 24, 1, true, 0);
    assertThat(tally.outside / (double) tally.said).isLessThan(0.03);
  }

  /**
   * White noise: of intervals of 1.96 errors about 95 % hold the truth, for independent horizons.
   * Four binomial standard errors of 2000 are 2 %; the correlation put back can only widen them.
   */
  @ParameterizedTest
  @ValueSource(ints = {10, 60, 300})
  void theIntervalOfTheErrorHoldsInWhiteNoise(int periodS) {
    Random random = new Random(3);
    int inside = 0;
    int runs = 2000;
    for (int run = 0; run < runs; run++) {
      FreeSlope slope = new FreeSlope(3 * HOUR_MS, 0, 1e-6);
      for (long s = 0; s <= 3 * 3600; s += periodS) {
        slope.accept(START_MS + s * 1000, 45_000 + 3 * random.nextGaussian(), Double.NaN);
      }
      inside += Math.abs(slope.slopePerHour()) < 1.96 * slope.slopeError() ? 1 : 0;
    }
    assertThat(inside / (double) runs).isBetween(0.93, 0.985);
  }

  /** Noise that remembers, AR(1) with half an hour: the plain error would hold half the time. */
  @Test
  void theIntervalOfTheErrorNearlyHoldsInNoiseThatRemembers() {
    Random random = new Random(4);
    int inside = 0;
    int runs = 1000;
    for (int run = 0; run < runs; run++) {
      FreeSlope slope = new FreeSlope(3 * HOUR_MS, 0, 1e-6);
      double keep = Math.exp(-60 / 1800.0);
      double state = random.nextGaussian();
      for (long s = 0; s <= 3 * 3600; s += 60) {
        state = keep * state + Math.sqrt(1 - keep * keep) * random.nextGaussian();
        slope.accept(START_MS + s * 1000, 45_000 + state, Double.NaN);
      }
      inside += Math.abs(slope.slopePerHour()) < 1.96 * slope.slopeError() ? 1 : 0;
    }
    assertThat(inside / (double) runs).isBetween(0.80, 0.98);
  }

  @Property(tries = 60)
  void withoutATideTheSlopeIsThatOfLeastSquaresOnTheBlockMeans(
      @ForAll long seed, @ForAll @IntRange(min = 1, max = 600) int periodS) {
    Random random = new Random(seed);
    FreeSlope slope = new FreeSlope(3 * HOUR_MS, 0, 1e-6);
    List<double[]> readings = new ArrayList<>();
    long block = 600_000;
    for (long s = 0; s < 5 * 3600; s += periodS) {
      double value = 45_000 + 2 * random.nextGaussian();
      slope.accept(START_MS + s * 1000, value, Double.NaN);
      readings.add(new double[] {START_MS + s * 1000, value});
    }
    long newest = Math.floorDiv((long) readings.get(readings.size() - 1)[0], block);
    List<double[]> means = new ArrayList<>();
    for (long k = newest - 18; k < newest; k++) {
      long from = k * block;
      List<double[]> in =
          readings.stream().filter(r -> r[0] >= from && r[0] < from + block).toList();
      if (!in.isEmpty()) {
        means.add(
            new double[] {
              in.stream().mapToDouble(r -> r[0] - START_MS).average().orElseThrow() / HOUR_MS,
              in.stream().mapToDouble(r -> r[1]).average().orElseThrow()
            });
      }
    }
    double t = means.stream().mapToDouble(m -> m[0]).average().orElseThrow();
    double tt = means.stream().mapToDouble(m -> (m[0] - t) * (m[0] - t)).sum();
    double ty = means.stream().mapToDouble(m -> (m[0] - t) * m[1]).sum();
    assertThat(slope.slopePerHour()).isCloseTo(ty / tt, within(0.1 * slope.slopeError()));
  }

  @Property(tries = 50)
  void anExactShareOfAnyTideIsTakenOut(
      @ForAll @DoubleRange(min = -50, max = 50) double kPaPerHour,
      @ForAll @DoubleRange(min = 0.01, max = 0.99) double share,
      @ForAll @IntRange(min = 0, max = 11) int tideHour) {
    FreeSlope slope = new FreeSlope(3 * HOUR_MS, 0);
    for (int s = 0; s < 24 * 3600; s += 60) {
      double sea = sea(s / 3600.0 + tideHour);
      slope.accept(
          START_MS + s * 1000L, 45_000 + kPaPerHour * s / 3600.0 + share * (sea - 14_200), sea);
    }
    assertThat(slope.slopePerHour()).isCloseTo(kPaPerHour, within(0.02));
  }

  /** The ambient gauge is silent from 20 h to 26 h, and for an hour each third hour after 30 h. */
  @ParameterizedTest
  @ValueSource(ints = {1, 3})
  void aGapOfTheAmbientGaugeWidensTheErrorAndMakesNoJump(int horizonHours) {
    Tally tally = new Tally();
    for (int phase = 0; phase < PHASES; phase++) {
      FreeSlope slope = new FreeSlope(horizonHours * HOUR_MS, 0.01);
      Random random = new Random(phase);
      double before = Double.NaN;
      double errorBefore = Double.NaN;
      for (long s = 0; s < 40 * 3600; s += 10) {
        double hour = s / 3600.0;
        double tide = sea(hour + phase * 0.5175);
        boolean silent = (hour >= 20 && hour < 26) || (hour >= 30 && (int) hour % 3 == 0);
        slope.accept(
            START_MS + s * 1000,
            45_000 + (tide - 14_200) + 0.05 * random.nextGaussian(),
            silent ? Double.NaN : tide);
        if (hour >= 18 && slope.slopePerHour() != before) {
          double jump = Math.abs(slope.slopePerHour() - before);
          assertThat(jump).isLessThan(2 * (slope.slopeError() + errorBefore) + 0.1);
          tally.add(slope, 0);
          before = slope.slopePerHour();
          errorBefore = slope.slopeError();
        } else if (hour < 18) {
          before = slope.slopePerHour();
          errorBefore = slope.slopeError();
        }
        if (hour > 19 && hour < 20) {
          assertThat(slope.slopeError()).isLessThan(0.3);
        } else if (hour > 25) {
          // share 1, amplitude 10: 2 pi / 12.42 h times 10 kPa are 5.06 kPa/h
          assertThat(slope.slopeError()).isLessThan(5.4);
        }
        if (hour > 24 && hour < 26) {
          assertThat(slope.slopeError()).isGreaterThan(5);
        }
      }
    }
    assertThat(tally.outside / (double) tally.said).isLessThan(0.02);
    assertThat(tally.worst).isLessThan(3);
  }

  /** An ambient gauge that reads every five minutes: its value is there for some readings only. */
  @Test
  void aSlowAmbientGaugeIsNoMissingOne() {
    FreeSlope each = new FreeSlope(HOUR_MS, 0.01);
    FreeSlope slow = new FreeSlope(HOUR_MS, 0.01);
    for (long s = 0; s < 24 * 3600; s += 10) {
      double sea = sea(s / 3600.0);
      each.accept(START_MS + s * 1000, 45_000 + 0.5 * sea, sea);
      slow.accept(START_MS + s * 1000, 45_000 + 0.5 * sea, s % 300 == 0 ? sea : Double.NaN);
    }
    assertThat(slow.slopePerHour()).isCloseTo(each.slopePerHour(), within(0.15));
    assertThat(slow.slopeError()).isLessThan(0.3);
  }

  @Test
  void aBuildUpIsNotTakenForATide() {
    for (boolean withAmbient : new boolean[] {true, false}) {
      FreeSlope slope = new FreeSlope(3 * HOUR_MS, 0.01);
      DoubleUnaryOperator level = hour -> 44_000 + 300 * Math.log(1 + 60 * hour);
      for (long s = 0; s < 48 * 3600; s += 60) {
        double hour = s / 3600.0;
        slope.accept(
            START_MS + s * 1000, level.applyAsDouble(hour), withAmbient ? sea(hour) : Double.NaN);
        if (hour > 6) {
          double truth = 300 * 60 / (1 + 60 * (hour - 1.5)); // d/dt in the middle of the window
          assertThat(slope.slopePerHour())
              .isCloseTo(truth, within(3 * slope.slopeError() + 0.03 * truth));
          assertThat(slope.slopeError()).isLessThan(6);
        }
      }
    }
  }

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void aMonthLaterTheTideIsStillTakenOut(boolean withAmbient) {
    FreeSlope slope = new FreeSlope(3 * HOUR_MS, 0.01);
    Tally tally = new Tally();
    Random random = new Random(5);
    double before = Double.NaN;
    for (long s = 0; s < 30 * 24 * 3600; s += 60) {
      double sea = sea(s / 3600.0);
      slope.accept(
          START_MS + s * 1000,
          45_000 + (sea - 14_200) + 0.05 * random.nextGaussian(),
          withAmbient ? sea : Double.NaN);
      if (s > 28 * 24 * 3600 && slope.slopePerHour() != before) {
        before = slope.slopePerHour();
        tally.add(slope, 0);
      }
    }
    assertThat(tally.outside / (double) tally.said).isLessThan(0.05);
    assertThat(tally.errors / tally.said).isLessThan(withAmbient ? 0.05 : 0.6);
  }

  /** A step of 20 kPa not crossed in an hour: two errors are a step an hour. */
  @Test
  void aSlopeUnderAStepOfTheResolutionIsNotDenied() {
    FreeSlope slope = new FreeSlope(HOUR_MS, 20, 1e-6);
    for (long s = 0; s < 4 * 3600; s += 10) {
      slope.accept(START_MS + s * 1000, 45_000, Double.NaN);
    }
    assertThat(slope.slopePerHour()).isCloseTo(0, within(1e-6));
    assertThat(2 * slope.slopeError()).isGreaterThanOrEqualTo(20);
  }

  @ParameterizedTest
  @CsvSource({"1, 1", "1, 300", "3, 1", "3, 300"})
  void nothingIsSaidBeforeHalfTheHorizonOrAfterARestart(int horizonHours, int periodS) {
    FreeSlope slope = new FreeSlope(horizonHours * HOUR_MS, 0.01);
    for (int round = 0; round < 2; round++) {
      long from = round * 10L * 3600;
      for (long s = 0; s < 1700L * horizonHours; s += periodS) {
        slope.accept(START_MS + (from + s) * 1000, 45_000, 14_200);
        assertThat(slope.slopePerHour()).isNaN();
        assertThat(slope.slopeError()).isNaN();
      }
      for (long s = 1700L * horizonHours; s < 3600L * horizonHours; s += periodS) {
        slope.accept(START_MS + (from + s) * 1000, 45_000, 14_200);
      }
      assertThat(slope.slopePerHour()).isCloseTo(0, within(1e-6));
      assertThat(slope.slopeError()).isPositive();
      slope.restart();
      assertThat(slope.slopePerHour()).isNaN();
    }
  }

  @Test
  void anHourWithoutLevelsIsForgottenWithTheHorizon() {
    FreeSlope slope = new FreeSlope(HOUR_MS, 0.01);
    for (long s = 0; s < 3600; s += 10) {
      slope.accept(START_MS + s * 1000, 45_000 + (double) s, 14_200);
    }
    slope.accept(START_MS + 4 * HOUR_MS, 45_000, 14_200);
    slope.accept(START_MS + 4 * HOUR_MS + 300_000, Double.NaN, 14_200);
    slope.accept(START_MS + 4 * HOUR_MS + 600_000, 45_000, 14_200);
    assertThat(slope.slopePerHour()).isNaN();
  }
}

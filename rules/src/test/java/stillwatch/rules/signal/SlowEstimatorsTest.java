package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

/** The estimators of hours, against the plain calculation over all readings. */
class SlowEstimatorsTest {
  private static final long START_MS = 1_772_967_600_000L;

  @Property(tries = 20)
  void theBackgroundIsTheTenthPercentileOfTheMinuteMeans(
      @ForAll long seed, @ForAll @IntRange(min = 25, max = 400) int minutes) {
    Random random = new Random(seed);
    Background background = new Background();
    List<Double> means = new ArrayList<>();
    for (int m = 0; m <= minutes; m++) {
      double level = 90 + random.nextDouble() * 2; // never more than the clip over the background
      background.accept(START_MS + m * 60_000L, level);
      background.accept(START_MS + m * 60_000L + 30_000, level);
      if (m < minutes) {
        means.add(level);
      }
    }
    double[] last =
        means.subList(Math.max(0, means.size() - 360), means.size()).stream()
            .mapToDouble(d -> d)
            .toArray();
    Arrays.sort(last);
    assertThat(background.background()).isCloseTo(last[last.length / 10], within(1e-9));
  }

  @Test
  void aSoundThatStaysDoesNotSoonBecomeTheBackground() {
    Background background = new Background();
    for (int m = 0; m < 360; m++) {
      background.accept(START_MS + m * 60_000L, 90 + m % 2);
    }
    for (int m = 360; m < 360 + 300; m++) {
      background.accept(START_MS + m * 60_000L, 110);
    }
    assertThat(background.rise()).isGreaterThanOrEqualTo(19);
  }

  @Property(tries = 100)
  void aStraightLineOfAnySlopeIsOneAndAKinkEndsIt(
      @ForAll @DoubleRange(min = -5, max = 5) double slope,
      @ForAll @IntRange(min = 10, max = 500) int before) {
    StraightLine line = new StraightLine(0.005);
    for (int s = 0; s <= before; s++) {
      line.accept(START_MS + s * 1000L, 45_000 + slope * s);
    }
    assertThat(line.lengthMs()).isEqualTo(before * 1000L);
    for (int s = before + 1; s <= before + 10; s++) {
      line.accept(START_MS + s * 1000L, 45_000 + slope * s + (s - before));
    }
    assertThat(line.lengthMs()).isLessThanOrEqualTo(10_000L);
  }

  @Test
  void aTrendAddsNothingToTheJitterAndTurnsDo() {
    Jitter steep = new Jitter();
    Jitter turning = new Jitter();
    for (int i = 0; i < 1000; i++) {
      steep.accept(45_000 - 30 * i);
      turning.accept(45_000 + i % 2);
    }
    assertThat(steep.size()).isZero();
    assertThat(turning.size()).isCloseTo(1, within(1e-3));
  }

  @Test
  void aGaugeThatTogglesBetweenTwoStepsOrIsDrawnInLinesIsNotLively() {
    Jitter toggling = new Jitter();
    Jitter drawn = new Jitter();
    Jitter alive = new Jitter();
    Random random = new Random(5);
    for (int i = 0; i < 5000; i++) {
      toggling.accept(20 * Math.rint(2250 + 0.2 * random.nextGaussian() + 0.5));
      drawn.accept(45_000 + Math.abs(i % 200 - 100) * 0.1);
      alive.accept(Math.rint((45_000 + 0.05 * random.nextGaussian()) * 100) / 100);
    }
    assertThat(toggling.lively()).isLessThan(0.02);
    assertThat(drawn.lively()).isLessThan(0.02);
    assertThat(alive.lively()).isGreaterThan(0.3);
  }

  @Test
  void anExpectationOnTheLogarithmOfTimeIsMetByAnIntactBuildUpAndTellsAFallAtOnce() {
    Expectation expectation = new Expectation(0.02, new Pace(1000));
    Random random = new Random(5);
    expectation.touched(START_MS);
    for (int s = 0; s < 6 * 3600; s += 10) {
      expectation.accept(
          START_MS + s * 1000L, 45_000 + 300 * Math.log1p(s / 20.0) + 0.02 * random.nextGaussian());
    }
    assertThat(expectation.departure()).isCloseTo(0, within(0.2));
    assertThat(expectation.shortSum()).isLessThan(6);
    for (int s = 6 * 3600; s < 6 * 3600 + 120; s += 10) {
      expectation.accept(START_MS + s * 1000L, 44_998 + 300 * Math.log1p(s / 20.0));
    }
    assertThat(expectation.departure()).isCloseTo(-2, within(0.2));
    assertThat(expectation.shortSum()).isGreaterThan(25);
    assertThat(expectation.shortSinceMs())
        .isBetween(START_MS + 21_480_000L, START_MS + 21_600_000L);
  }

  /** p = a + b ln Δt reaches a given level at Δt = exp((level − a)/b), exactly. */
  @Test
  void theTimeUntilALevelIsThatOfTheLine() {
    Expectation expectation = new Expectation(0.02, new Pace(1000));
    expectation.touched(START_MS);
    for (int s = 0; s <= 3 * 3600; s += 10) {
      expectation.accept(START_MS + s * 1000L, 45_000 + 300 * Math.log(s + 5));
    }
    long now = START_MS + 3 * 3600 * 1000L + 5000;
    double target = 45_000 + 300 * Math.log(4 * 3600);
    assertThat(expectation.reach(target, now).seconds()).isCloseTo(3_600, within(30.0));
    assertThat(expectation.reach(46_000, now).seconds()).isLessThan(0.001);
  }
}

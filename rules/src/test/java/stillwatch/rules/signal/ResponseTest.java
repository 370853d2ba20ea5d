package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** A gauge that follows, one that is plugged, and one that cannot tell. */
class ResponseTest {
  private static final long START_MS = 1_772_967_600_000L;
  private static final long NEVER = Long.MIN_VALUE;
  private static final double HOUR_S = 3600;

  /** Speed of M2, 28.9841042 degrees an hour (NOAA, harmonic constituents). */
  private static double tide(double s) {
    return Math.cos(Math.toRadians(28.9841042 * s / HOUR_S));
  }

  private static double buildUp(double s) {
    return 44_000 + 300 * Math.log(60 + s);
  }

  /** Readings that are not smoothed. */
  private static void accept(Response response, long atMs, double own, double other) {
    response.accept(atMs, own, other, own, other);
  }

  /** Feeds courses of seconds from one time to another, each with its own noise. */
  private static void feed(
      Response response,
      Random random,
      double fromHour,
      double toHour,
      int periodS,
      DoubleUnaryOperator own,
      double ownNoise,
      DoubleUnaryOperator other,
      double otherNoise) {
    for (double s = fromHour * HOUR_S; s < toHour * HOUR_S; s += periodS) {
      accept(
          response,
          START_MS + (long) (s * 1000),
          own.applyAsDouble(s) + ownNoise * random.nextGaussian(),
          other.applyAsDouble(s) + otherNoise * random.nextGaussian());
    }
  }

  /** At 300 s three readings make a block, and seven blocks must be known: an hour and more. */
  @ParameterizedTest
  @CsvSource({"1, 1", "10, 1", "60, 1", "300, 3"})
  void twoGaugesOnABuildUpProveEachOther(int periodS, double hours) {
    Response response = Response.full(Math.max(10, periodS) * 1000L, 0, 0);
    Random random = new Random(1);
    feed(
        response,
        random,
        0,
        hours,
        periodS,
        ResponseTest::buildUp,
        0.05,
        s -> buildUp(s) + 35,
        0.05);
    assertThat(response.gain()).isCloseTo(1, within(0.01));
    assertThat(response.provenMs())
        .isGreaterThan(
            START_MS + (long) (hours * 3_600_000) - 3 * Math.max(60_000, periodS * 3000L));
    assertThat(response.missedMs()).isEqualTo(NEVER);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 10, 60, 300})
  void livingNoiseAloneProvesNothingAndMissesTideAndBuildUp(int periodS) {
    Response onTide = Response.full(Math.max(10, periodS) * 1000L, 0, 0);
    Response onBuildUp = Response.full(Math.max(10, periodS) * 1000L, 0, 0);
    Random random = new Random(2);
    feed(onTide, random, 0, 30, periodS, s -> 45_000, 0.05, s -> 14_200 + 5 * tide(s), 0.05);
    feed(onBuildUp, random, 0, 30, periodS, s -> 45_000, 0.05, ResponseTest::buildUp, 0.05);
    assertThat(onTide.provenMs()).isEqualTo(NEVER);
    assertThat(onTide.missedMs()).isGreaterThan(START_MS + 26 * 3_600_000L);
    assertThat(onBuildUp.provenMs()).isEqualTo(NEVER);
    assertThat(onBuildUp.missedMs()).isGreaterThan(START_MS + 28 * 3_600_000L);
    assertThat(onBuildUp.gain()).isCloseTo(0, within(0.05));
  }

  /** With seeds of its own: one day in some thousands noise alone passes for a movement. */
  @Property(tries = 40, seed = "20260308")
  void twoConstantsWithNoiseProveAndMissNothing(@ForAll long seed) {
    Response response = Response.full(10_000, 0, 0);
    Response slow = Response.full(300_000, 0, 0);
    Random random = new Random(seed);
    feed(response, random, 0, 24, 10, s -> 45_000, 0.05, s -> 45_020, 0.05);
    feed(slow, random, 0, 240, 300, s -> 45_000, 2, s -> 45_020, 0.05);
    assertThat(response.provenMs()).isEqualTo(NEVER);
    assertThat(response.missedMs()).isEqualTo(NEVER);
    assertThat(response.gain()).isNaN();
    assertThat(slow.provenMs()).isEqualTo(NEVER);
    assertThat(slow.missedMs()).isEqualTo(NEVER);
  }

  /** Independent random walks: what wanders with its own error is not taken for response. */
  @Test
  void twoThatWanderByThemselvesHardlyEverProveEachOther() {
    int proven = 0;
    for (int run = 0; run < 40; run++) {
      Random random = new Random(100 + run);
      Response response = Response.full(10_000, 0, 0);
      double own = 0;
      double other = 0;
      for (int i = 0; i < 8640; i++) {
        own += 0.05 * random.nextGaussian();
        other += 0.05 * random.nextGaussian();
        accept(
            response,
            START_MS + i * 10_000L,
            45_000 + own + 0.05 * random.nextGaussian(),
            45_000 + other + 0.05 * random.nextGaussian());
      }
      proven += response.provenMs() == NEVER ? 0 : 1;
    }
    assertThat(proven).isLessThanOrEqualTo(1);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 10, 60, 300})
  void aSharedStepProvesAndIsDatedByTheStepWhenNothingFollows(int periodS) {
    Response response = Response.full(Math.max(10, periodS) * 1000L, 0, 0);
    DoubleUnaryOperator step = s -> 45_000 + (s < 4 * HOUR_S ? 0 : 120);
    Random random = new Random(3);
    feed(response, random, 0, 4, periodS, step, 0.05, s -> step.applyAsDouble(s) + 9, 0.05);
    assertThat(response.provenMs()).isEqualTo(NEVER);
    feed(response, random, 4, 6.5, periodS, step, 0.05, s -> step.applyAsDouble(s) + 9, 0.05);
    long blockMs = Math.max(60_000, 3000L * periodS);
    assertThat(response.gain()).isCloseTo(1, within(0.01));
    assertThat(response.provenMs() - START_MS)
        .isBetween(4 * 3_600_000L, 4 * 3_600_000L + Math.max(600_000, 2 * blockMs));
    assertThat(response.missedMs()).isEqualTo(NEVER);
  }

  @Test
  void aDriftOfTheOtherAloneIsMissedAndProvesNothing() {
    Response response = Response.full(10_000, 0, 0);
    feed(response, new Random(4), 0, 12, 10, s -> 45_000, 0.05, s -> 45_000 + 2 * s / HOUR_S, 0.05);
    assertThat(response.provenMs()).isEqualTo(NEVER);
    assertThat(response.missedMs()).isGreaterThan(START_MS + 10 * 3_600_000L);
    assertThat(response.gain()).isCloseTo(0, within(0.05));
  }

  /** Both feel one tide; what one of them drifts beside it hides neither. */
  @ParameterizedTest
  @ValueSource(doubles = {8, 25, 80})
  void twoThatFeelOneTideProveThatWhileOneDrifts(double perHour) {
    Response response = Response.full(10_000, 0.01, 0.01);
    DoubleUnaryOperator sound = s -> 45_000 + 6 * tide(s);
    DoubleUnaryOperator drifts = s -> sound.applyAsDouble(s) - perHour * s / HOUR_S;
    feed(response, new Random(13), 0, 12, 10, drifts, 0.2, sound, 0.2);
    assertThat(response.provenMs()).isGreaterThan(START_MS + 5 * 3_600_000L);
  }

  /** What is trapped behind a plug cools, and bends as smoothly as a tide does. */
  @Test
  void whatCoolsBehindAPlugHardlyEverProvesItselfByTheTide() {
    int proven = 0;
    for (int run = 0; run < 40; run++) {
      Random random = new Random(200 + run);
      Response response = Response.full(10_000, 0.01, 0.01);
      double tauHours = 2 + 10 * random.nextDouble();
      double size = 5 + 60 * random.nextDouble();
      double phaseS = 45_000 * random.nextDouble();
      feed(
          response,
          random,
          0,
          12,
          10,
          s -> 45_000 + size * Math.exp(-s / HOUR_S / tauHours),
          0.2,
          s -> 45_000 + 6 * tide(s + phaseS) - 25 * s / HOUR_S,
          0.2);
      proven += response.provenMs() == NEVER ? 0 : 1;
    }
    assertThat(proven).isLessThanOrEqualTo(2);
  }

  @Test
  void aRiseThatIsMissedIsToldFromAFall() {
    Response rise = Response.full(10_000, 0, 0);
    Response fall = Response.full(10_000, 0, 0);
    feed(rise, new Random(14), 0, 4, 10, s -> 45_000, 0.05, ResponseTest::buildUp, 0.05);
    feed(fall, new Random(14), 0, 4, 10, s -> 45_000, 0.05, s -> -buildUp(s), 0.05);
    assertThat(rise.missedRiseMs()).isGreaterThan(START_MS);
    assertThat(fall.missedMs()).isGreaterThan(START_MS);
    assertThat(fall.missedRiseMs()).isEqualTo(NEVER);
  }

  @Test
  void aGaugeThatIsPluggedIsDatedByTheLastMovementItShowed() {
    Response response = Response.full(10_000, 0, 0);
    Random random = new Random(5);
    DoubleUnaryOperator plugged = s -> buildUp(Math.min(s, 5 * HOUR_S));
    feed(response, random, 0, 5, 10, plugged, 0.05, ResponseTest::buildUp, 0.05);
    assertThat(response.missedMs()).isEqualTo(NEVER);
    feed(response, random, 5, 9, 10, plugged, 0.05, ResponseTest::buildUp, 0.05);
    assertThat(response.provenMs()).isBetween(START_MS + 17_700_000, START_MS + 18_120_000);
    assertThat(response.missedMs()).isGreaterThan(START_MS + 8 * 3_600_000L);
  }

  /** A median of a slow gauge is a reading late; the other has then moved first, not alone. */
  @ParameterizedTest
  @ValueSource(ints = {10, 60, 300})
  void aGaugeThatIsTwoReadingsLateMissesNothing(int periodS) {
    Response response = Response.full(periodS * 1000L, 0, 0);
    DoubleUnaryOperator step = s -> 45_000 - (s < 5 * HOUR_S + 35 ? 0 : 700);
    feed(
        response,
        new Random(6),
        0,
        9,
        periodS,
        s -> step.applyAsDouble(s - 2 * periodS),
        0.05,
        step,
        0.05);
    assertThat(response.missedMs()).isEqualTo(NEVER);
  }

  @Test
  void aCoarseGaugeThatTogglesMissesNothingWhenItsResolutionIsKnown() {
    Response response = Response.full(10_000, 20 / Math.sqrt(12), 20 / Math.sqrt(12));
    Random random = new Random(7);
    DoubleUnaryOperator slow = s -> 45_000 + 11 * s / (24 * HOUR_S);
    feed(
        response,
        random,
        0,
        24,
        10,
        s -> 20 * Math.rint(slow.applyAsDouble(s) / 20),
        0,
        s -> 20 * Math.rint((slow.applyAsDouble(s) + 5) / 20),
        0);
    assertThat(response.missedMs()).isEqualTo(NEVER);
    assertThat(response.provenMs()).isEqualTo(NEVER);
  }

  @Test
  void whatIsNotANumberOrNotLaterTeachesNothing() {
    Response plain = Response.full(10_000, 0, 0);
    Response broken = Response.full(10_000, 0, 0);
    Random random = new Random(8);
    for (int i = 0; i < 1000; i++) {
      long at = START_MS + i * 10_000L;
      double own = buildUp(i * 10) + 0.05 * random.nextGaussian();
      double other = buildUp(i * 10) + 0.05 * random.nextGaussian();
      accept(plain, at, own, other);
      accept(broken, at, own, other);
      accept(broken, at, 0, 0);
      accept(broken, at + 1, Double.NaN, other);
      accept(broken, at + 2, own, Double.NaN);
    }
    assertThat(broken.gain()).isEqualTo(plain.gain());
    assertThat(broken.provenMs()).isEqualTo(plain.provenMs());
  }

  /** A movement of another size has another cause; it is neither shown nor missed. */
  @ParameterizedTest
  @ValueSource(doubles = {0.3, 3, -1})
  void aMovementOfAnotherSizeProvesNothing(double gain) {
    Response full = Response.full(10_000, 0, 0);
    Response partial = Response.partial(10_000, 0, 0);
    Random random = new Random(11);
    feed(full, random, 0, 3, 10, s -> gain * buildUp(s), 0.05, ResponseTest::buildUp, 0.05);
    assertThat(full.gain()).isCloseTo(gain, within(0.02));
    assertThat(full.provenMs()).isEqualTo(NEVER);
    assertThat(full.missedMs()).isEqualTo(NEVER);
    double ofTide = gain == 0.3 ? 1.5 : gain; // 0.3 would be a share
    feed(partial, random, 0, 48, 10, s -> 5 * ofTide * tide(s), 0.05, s -> 5 * tide(s), 0.05);
    assertThat(partial.provenMs()).isEqualTo(NEVER);
  }

  @Test
  void afterARestartOnlyTheDatesAreLeft() {
    Response response = Response.full(10_000, 0, 0);
    feed(
        response,
        new Random(9),
        0,
        2,
        10,
        ResponseTest::buildUp,
        0.05,
        ResponseTest::buildUp,
        0.05);
    long proven = response.provenMs();
    response.restart();
    assertThat(response.gain()).isNaN();
    assertThat(response.provenMs()).isEqualTo(proven).isGreaterThan(START_MS);
  }

  /** The build-up of its own is far larger than the share of the tide in it. */
  @ParameterizedTest
  @CsvSource({"10, 0.3", "10, 1", "60, 0.3", "300, 0.5"})
  void aShareOfTheTideIsProvenBesideABuildUp(int periodS, double share) {
    for (int phase = 0; phase < 12; phase++) {
      Response response = Response.partial(periodS * 1000L, 0, 0);
      double shift = phase * HOUR_S;
      feed(
          response,
          new Random(10 + phase),
          12,
          48,
          periodS,
          s -> buildUp(s) + share * 5 * tide(s + shift),
          0.05,
          s -> 14_200 + 5 * tide(s + shift),
          0.05);
      assertThat(response.provenMs()).isGreaterThan(START_MS + 34 * 3_600_000L);
      assertThat(response.gain()).isCloseTo(share, within(0.1 * share + 0.05));
      assertThat(response.missedMs()).isEqualTo(NEVER);
    }
  }

  @Property(tries = 30)
  void aGaugeThatFeelsNoTideIsNotProvenByTheTide(
      @ForAll long seed, @ForAll @IntRange(min = 0, max = 12) int phase) {
    Response noisy = Response.partial(10_000, 0, 0);
    Response relaxing = Response.partial(10_000, 0, 0);
    Random random = new Random(seed);
    double shift = phase * HOUR_S;
    DoubleUnaryOperator sea = s -> 14_200 + 5 * tide(s + shift);
    feed(noisy, random, 0, 48, 10, s -> 45_000, 0.05, sea, 0.05);
    feed(relaxing, random, 12, 48, 10, ResponseTest::buildUp, 0.05, sea, 0.05);
    assertThat(noisy.provenMs()).isEqualTo(NEVER);
    assertThat(relaxing.provenMs()).isEqualTo(NEVER);
  }

  @Test
  void aGaugeThatIsPluggedStopsProvingItsShareOfTheTide() {
    for (int phase = 0; phase < 12; phase++) {
      Response response = Response.partial(10_000, 0, 0);
      double shift = phase * HOUR_S;
      feed(
          response,
          new Random(30 + phase),
          0,
          72,
          10,
          s -> 45_000 + 1.5 * tide(Math.min(s, 36 * HOUR_S) + shift),
          0.05,
          s -> 14_200 + 5 * tide(s + shift),
          0.05);
      assertThat(response.provenMs() - START_MS).isBetween(22 * 3_600_000L, 42 * 3_600_000L);
    }
  }
}

package stillwatch.rules.well;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SoundEvidenceTest {
  private static final double ALWAYS = Double.NEGATIVE_INFINITY;

  private static HydrophoneLevels heard(Hydrophone ear, double... levels) {
    return new HydrophoneLevels(
        ear,
        java.util.stream.IntStream.range(0, levels.length)
            .mapToObj(i -> new HydrophoneLevels.Level(10 + (i + 1) / 6.0, levels[i]))
            .toList());
  }

  private static Hydrophone ear(double background, double onePercent) {
    return new Hydrophone("H", Uncertain.known(background), Uncertain.known(onePercent));
  }

  /**
   * Powers add: two sounds of one level are 3.01 dB louder than one, one ten decibels weaker adds
   * 0.41 dB (ISO 18405:2017, level of a power quantity; the sums by hand). A leak of twice the rate
   * has twice the power. The likeliest level of a leak is the one whose neighbours are less likely.
   */
  @ParameterizedTest
  @CsvSource({"100, 100, 0.01, 103.01", "100, 90, 0.01, 100.41", "100, 100, 0.02, 104.77"})
  void theLikeliestLevelIsTheSumOfThePowers(
      double background, double onePercent, double share, double expected) {
    Hydrophone ear = ear(background, onePercent);
    double best = Double.NaN;
    double most = Double.NEGATIVE_INFINITY;
    for (double level = 95; level < 110; level += 0.01) {
      double likely =
          new SoundEvidence(List.of(heard(ear, level))).given(new Estimate(share, 0), ALWAYS);
      best = likely > most ? level : best;
      most = Math.max(most, likely);
    }
    assertThat(best).isCloseTo(expected, within(0.02));
  }

  @Test
  void theQuietestCountsForAVesselComesAndGoes() {
    Hydrophone ear = ear(100, 110);
    SoundEvidence vessel = new SoundEvidence(List.of(heard(ear, 118, 119, 100.3, 117)));
    SoundEvidence quiet = new SoundEvidence(List.of(heard(ear, 100.3)));
    assertThat(vessel.silent(ALWAYS)).isEqualTo(quiet.silent(ALWAYS));
  }

  @Test
  void onlyWhatIsHeardSinceItBeganSpeaksOfALeakThatBeganLater() {
    Hydrophone ear = ear(100, 110);
    SoundEvidence sound = new SoundEvidence(List.of(heard(ear, 100, 100, 113, 113)));
    Estimate share = new Estimate(0.02, 0);
    assertThat(sound.given(share, 10.3)).isGreaterThan(sound.given(share, ALWAYS));
    assertThat(sound.given(share, 11)).as("nothing heard since: nothing said").isZero();
  }

  /** The facts may be wrong, for all hydrophones alike: two that agree are not proof either. */
  @Test
  void soundAloneProvesNothing() {
    Hydrophone near =
        new Hydrophone("near", Uncertain.between(100, 106), Uncertain.between(100, 120));
    Hydrophone far = new Hydrophone("far", Uncertain.between(100, 106), Uncertain.between(98, 118));
    Estimate share = new Estimate(0.1, 0.02);
    SoundEvidence one = new SoundEvidence(List.of(heard(near, 121)));
    SoundEvidence both = new SoundEvidence(List.of(heard(near, 121), heard(far, 119)));
    double byOne = Math.exp(one.given(share, ALWAYS) - one.silent(ALWAYS));
    double byBoth = Math.exp(both.given(share, ALWAYS) - both.silent(ALWAYS));
    assertThat(byOne).isBetween(20.0, 200.0);
    assertThat(byBoth).isBetween(byOne, 5 * byOne);
    assertThat(both.loud()).isTrue();
    assertThat(new SoundEvidence(List.of(heard(near, 108))).loud()).isFalse();
  }
}

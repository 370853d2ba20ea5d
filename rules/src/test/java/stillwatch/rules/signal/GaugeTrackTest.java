package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.unit.Kind;

/** A gauge that says everything a broken gauge can say, and two that should agree. */
class GaugeTrackTest {
  private static final TrackSettings SETTINGS =
      new TrackSettings(Kind.PRESSURE, 5000, 103_500, 0.01, 20, new Pace(1000));

  record Said(long atMs, double value, byte quality) {}

  /** Times that repeat and run backwards, values of every sort, qualities known and unknown. */
  @Provide
  Arbitrary<List<Said>> anything() {
    Arbitrary<Double> values =
        Arbitraries.oneOf(
            Arbitraries.doubles().between(45_000, 47_000),
            Arbitraries.of(
                0.0,
                -1e42,
                1e9,
                Double.NaN,
                Double.POSITIVE_INFINITY,
                Double.NEGATIVE_INFINITY,
                5000.0,
                5009.8,
                5009.9,
                103_490.1,
                103_490.2,
                103_500.0,
                Double.MIN_VALUE));
    Arbitrary<Long> times = Arbitraries.longs().between(0, 400).map(s -> Series.START_MS + s * 500);
    Arbitrary<Byte> qualities =
        Arbitraries.of((byte) 0, (byte) 0, (byte) 1, (byte) 2, (byte) 9, (byte) -1);
    return Combinators.combine(times, values, qualities).as(Said::new).list().ofMaxSize(200);
  }

  @Property
  void onlyBelievableReadingsCountAndEveryOtherIsCounted(@ForAll("anything") List<Said> said) {
    GaugeTrack track = new GaugeTrack(SETTINGS);
    List<Double> believed = new ArrayList<>();
    long lastMs = Long.MIN_VALUE;
    int nothing = 0;
    for (Said s : said) {
      track.accept(s.atMs(), s.atMs(), s.value(), s.quality());
      boolean trusted = s.quality() == 0 || s.quality() == 1;
      boolean within =
          s.value() > 5009.85 && s.value() < 103_490.15; // 1e-4 of the range off its ends
      if (trusted && within && s.atMs() > lastMs) {
        believed.add(s.value());
        lastMs = s.atMs();
      }
      nothing += trusted && Double.isNaN(s.value()) ? 1 : 0;
    }
    assertThat(track.acceptedCount()).isEqualTo(believed.size());
    assertThat(
            track.acceptedCount()
                + track.lateness().count()
                + track.badCount()
                + track.outOfRangeCount()
                + nothing)
        .isEqualTo(said.size());
    if (believed.isEmpty()) {
      assertThat(track.level()).isNaN();
    } else {
      assertThat(track.level()).isBetween(5000.0, 103_500.0);
      assertThat(track.fall().lost())
          .satisfiesAnyOf(v -> assertThat(v).isNaN(), v -> assertThat(v).isGreaterThanOrEqualTo(0));
    }
  }

  @Test
  void twinsAreComparedAfterTheirUsualOffsetWhichIsLearnedForHalfAnHour() {
    PairTrack pair = new PairTrack(20, 15, 0, PairTrack.BOUNDED, 0);
    for (int s = 0; s <= 1800; s += 10) {
      assertThat(pair.ready()).isFalse();
      pair.update(Series.START_MS + s * 1000L, 46_010 + s % 20 * 0.01, 46_000);
    }
    assertThat(pair.ready()).isTrue();
    assertThat(pair.offset()).isCloseTo(10.05, within(0.01));
    pair.update(Series.START_MS + 1_810_000, 46_040, 46_000);
    assertThat(pair.excess()).isCloseTo(29.95, within(0.01));
    // sqrt(20^2 + 15^2): accuracies of independent gauges add as squares (DOMAIN of the trade; GUM
    // 2008, 5.1.2)
    assertThat(pair.bound()).isEqualTo(25);
  }

  /** A gauge that reads once a minute, held at 46 MPa and then as told, one reading each. */
  private static GaugeTrack slow(double... then) {
    GaugeTrack track =
        new GaugeTrack(new TrackSettings(Kind.PRESSURE, 5000, 103_500, 0.01, 20, new Pace(60_000)));
    long atMs = Series.START_MS;
    for (int m = 0; m < 30; m++) {
      track.accept(atMs, atMs, 46_000 + m % 2 * 0.01, (byte) 0);
      atMs += 60_000;
    }
    for (double value : then) {
      track.accept(atMs, atMs, value, (byte) 0);
      atMs += 60_000;
    }
    return track;
  }

  /** 50 kPa/s is within what a valve does to a small volume: it need not wait. */
  @Test
  void aSlowGaugeShowsAGreatFallOnItsSecondReading() {
    assertThat(slow(43_000, 43_000).fall().lost()).isCloseTo(3000, within(1.0));
  }

  @Test
  void aSlowGaugesStepThatStaysWhereItWentIsTrueOnTheSecondReadingAndADiveWaits() {
    assertThat(slow(30_000, 30_010).waiting()).isFalse();
    assertThat(slow(30_000, 14_000).waiting()).isTrue();
    assertThat(slow(30_000, 14_000, 0).level()).isCloseTo(46_000, within(1.0));
  }

  @Test
  void theLowestIsWhereReadingsThatWaitHaveGone() {
    GaugeTrack track = slow(30_000);
    assertThat(track.level()).isCloseTo(46_000, within(1.0));
    assertThat(track.lowest()).isCloseTo(30_000, within(1.0));
  }

  @Test
  void whatASwellMovesIsItsSwing() {
    assertThat(slow().swung()).isLessThan(0.1);
    assertThat(slow(46_200, 46_200, 45_800, 45_800).swung()).isCloseTo(400, within(1.0));
  }
}

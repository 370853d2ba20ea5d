package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Objects;
import java.util.Random;
import java.util.function.IntToDoubleFunction;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.rules.indicator.LateIndicator;

/** What came to pass while the link was away, for ten minutes from the tenth on. */
class BacklogTest {
  private static final long START = 1_772_967_600_000L;
  private static final int AWAY_S = 600;
  private static final int BACK_S = 1200;

  private final WatchedGauge gauge = TestGauges.of("PT-1", "kPa", null, START);
  private final Backlog backlog = new Backlog(gauge);
  private final Random random = new Random(7);
  private long nowMs = START;

  private static long at(int second) {
    return START + second * 1000L;
  }

  private void live(int fromS, int toS, double kPa) {
    for (int s = fromS; s < toS; s++) {
      nowMs = at(s);
      backlog.live(nowMs);
      gauge.track.accept(nowMs, nowMs, kPa + 0.05 * random.nextGaussian(), Quality.GOOD.code());
    }
  }

  private void late(int fromS, int toS, IntToDoubleFunction kPa) {
    for (int s = fromS; s < toS; s++) {
      backlog.late(at(s), nowMs, kPa.applyAsDouble(s));
    }
  }

  private @Nullable LateIndicator told(int second) {
    nowMs = at(second);
    return backlog.told("larkspur-2", nowMs);
  }

  @Test
  void aGaugeThatStandsLowerThanBeforeTellsAtItsThirdReading() {
    live(0, AWAY_S, 46_000);
    live(BACK_S, BACK_S + 2, 45_200);
    assertThat(told(BACK_S + 1)).isNull();
    live(BACK_S + 2, BACK_S + 3, 45_200);
    LateIndicator row = Objects.requireNonNull(told(BACK_S + 2));
    assertThat(row.left()).isCloseTo(-800, within(1.0));
    assertThat(row.change()).isEqualTo(row.left());
    assertThat(row.fromMs()).isEqualTo(at(AWAY_S - 1));
    assertThat(row.toMs()).isEqualTo(at(BACK_S));
    assertThat(row.over()).isFalse();
    assertThat(told(BACK_S + 3)).as("once").isNull();
  }

  @Test
  void aFallThatCameBackWithinTheOutageIsToldFromTheBacklogOnceItHasBeenRead() {
    live(0, AWAY_S, 46_000);
    live(BACK_S, BACK_S + 10, 46_000);
    assertThat(told(BACK_S + 10)).as("it stands where it stood").isNull();
    late(AWAY_S, BACK_S, s -> s >= 800 && s < 860 ? 45_200 : 46_000);
    assertThat(told(BACK_S + 20)).as("more may come").isNull();
    LateIndicator row = Objects.requireNonNull(told(BACK_S + 26));
    assertThat(row.change()).isCloseTo(-800, within(1.0));
    assertThat(row.onsetMs()).isBetween(at(798), at(801));
    assertThat(row.fromMs()).isEqualTo(at(AWAY_S));
    assertThat(row.left()).isCloseTo(0, within(1.0));
    assertThat(told(BACK_S + 27)).isNull();
    LateIndicator over = Objects.requireNonNull(told(BACK_S + 26 + 600));
    assertThat(over.over()).isTrue();
    assertThat(over.change()).isEqualTo(row.change());
    assertThat(told(BACK_S + 2000)).isNull();
  }

  @Test
  void oneWildReadingOfTheBacklogIsNoFall() {
    live(0, AWAY_S, 46_000);
    live(BACK_S, BACK_S + 10, 46_000);
    late(AWAY_S, BACK_S, s -> s == 900 ? 20_000 : 46_000);
    LateIndicator row = Objects.requireNonNull(told(BACK_S + 40));
    assertThat(row.change()).isCloseTo(0, within(1.0));
  }

  @Test
  void readingsOutsideTheOutageOrTheRangeAreNotPartOfIt() {
    live(0, AWAY_S, 46_000);
    live(BACK_S, BACK_S + 10, 46_000);
    late(0, 300, s -> 30_000);
    late(700, 800, s -> 0);
    assertThat(told(BACK_S + 60)).isNull();
  }

  @Test
  void aGapOfLessThanAMinuteIsNoOutage() {
    live(0, AWAY_S, 46_000);
    live(AWAY_S + 59, AWAY_S + 70, 45_200);
    assertThat(told(AWAY_S + 70)).isNull();
  }

  /** A step that was logged in the outage, or work on the gauge, is why it stands elsewhere. */
  @Test
  void whatWasDoneInTheOutageIsNotToldAsALoss() {
    live(0, AWAY_S, 46_000);
    gauge.touched(at(900));
    live(BACK_S, BACK_S + 5, 45_200);
    assertThat(told(BACK_S + 5)).isNull();
  }

  @Test
  void whatWasDoneBeforeTheOutageExplainsNothingOfIt() {
    gauge.touched(at(0));
    live(0, AWAY_S, 46_000);
    live(BACK_S, BACK_S + 5, 45_200);
    assertThat(told(BACK_S + 5)).isNotNull();
  }
}

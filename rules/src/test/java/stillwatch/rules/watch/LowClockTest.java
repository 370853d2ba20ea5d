package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import stillwatch.rules.indicator.LowTime;

/** How long low is low, against a look back over all that was said. */
class LowClockTest {
  private static final long MIN = 60_000;
  private static final long START = 1_772_967_600_000L;
  private static final double LEAK_HIGH = 40;
  private static final double INTACT_LOW = 44;

  /** Levels by their number: not known, low, between the limits, intact. */
  private static final double[] LEVELS = {Double.NaN, 39, 40, 42, 44, 46};

  private final LowClock clock = new LowClock();

  private void at(long minute, double level, long fromMs, long periodMs) {
    clock.accept(START + minute * MIN, level, LEAK_HIGH, INTACT_LOW, fromMs, periodMs);
  }

  private LowTime now() {
    return clock.now(0, 0);
  }

  /**
   * A run of low begins with the first low level that no lasting height separates from the last:
   * each level above the limit since came no longer after a low one than the stay, 5 min or three
   * readings.
   */
  private static double naive(List<Integer> levels, int stepMin, boolean leak) {
    int n = levels.size();
    long stays = Math.max(5, 3L * stepMin);
    for (int first = 0; first < n; first++) {
      if (!low(levels.get(first), leak)) {
        continue;
      }
      boolean one = true;
      for (int above = first; above < n; above++) {
        if (Double.isNaN(LEVELS[levels.get(above)]) || low(levels.get(above), leak)) {
          continue;
        }
        int before = above;
        while (!low(levels.get(before), leak)) {
          before--;
        }
        one &= (long) (above - before) * stepMin <= stays;
      }
      if (one) {
        return (n - 1 - first) * stepMin * 60.0;
      }
    }
    return 0;
  }

  private static boolean low(int level, boolean leak) {
    return leak ? LEVELS[level] <= LEAK_HIGH : LEVELS[level] < INTACT_LOW;
  }

  @Property(seed = "20260308")
  void bothClocksCountFromTheFirstLowLevelThatNoLastingHeightPartsFromNow(
      @ForAll @Size(min = 1, max = 40) List<@IntRange(min = 0, max = 5) Integer> levels,
      @ForAll @IntRange(min = 1, max = 4) int stepMin) {
    LowClock fresh = new LowClock();
    for (int i = 0; i < levels.size(); i++) {
      long atMs = START + (long) i * stepMin * MIN;
      fresh.accept(
          atMs, LEVELS[levels.get(i)], LEAK_HIGH, INTACT_LOW, Long.MIN_VALUE, stepMin * MIN);
    }
    LowTime now = fresh.now(0, 0);
    assertThat(now.leakS()).isEqualTo(naive(levels, stepMin, true));
    assertThat(now.belowS()).isEqualTo(naive(levels, stepMin, false));
    assertThat(now.running()).isTrue();
  }

  @Test
  void aTideOverTheLimitForFiveMinutesDoesNotSetItBackAndSixMinutesDo() {
    at(0, 39, START, MIN);
    for (int m = 1; m <= 5; m++) {
      at(m, 41, START, MIN);
    }
    at(6, 39, START, MIN);
    assertThat(now().leakS()).isEqualTo(6 * 60);
    for (int m = 7; m <= 12; m++) {
      at(m, 41, START, MIN);
    }
    assertThat(now().leakS()).isZero();
    assertThat(now().belowS()).as("it never left the doubtful band").isEqualTo(12 * 60);
    at(13, 39, START, MIN);
    at(14, 39, START, MIN);
    assertThat(now().leakS()).as("it begins anew").isEqualTo(60);
    assertThat(now().leakSinceMs()).isEqualTo(START + 13 * MIN);
  }

  @Test
  void hoursWithoutKnowledgeBreakNoTiming() {
    at(0, 39, START, MIN);
    for (int m = 1; m < 180; m++) {
      at(m, Double.NaN, START, MIN);
    }
    at(180, 39, START, MIN);
    assertThat(now().leakS()).isEqualTo(3 * 3600);
  }

  @Test
  void lowBeforeTheLastStepHasSettledDoesNotCount() {
    long settled = START + 6 * MIN;
    for (int m = 0; m < 6; m++) {
      at(m, 39, settled, MIN);
      assertThat(now().running()).isFalse();
      assertThat(now().leakS()).isZero();
    }
    at(6, 39, settled, MIN);
    at(8, 39, settled, MIN);
    assertThat(now().running()).isTrue();
    assertThat(now().leakS()).isEqualTo(2 * 60);
    at(9, 39, Long.MAX_VALUE, MIN);
    assertThat(now().running()).as("the well is open again").isFalse();
    assertThat(now().belowS()).isZero();
  }
}

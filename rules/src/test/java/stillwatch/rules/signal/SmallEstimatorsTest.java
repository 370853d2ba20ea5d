package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;

/** The smallest estimators, each against a look over all that it was given. */
class SmallEstimatorsTest {
  private static final long START = 1_772_967_600_000L;

  @Property(seed = "20260308")
  void aSpansMeanIsThatOfAllItsValuesAndIsToldOnce(
      @ForAll @Size(min = 1, max = 80) List<@IntRange(min = 1, max = 25) Integer> steps) {
    long length = 10_000;
    SpanMeans means = new SpanMeans(length);
    List<long[]> all = new ArrayList<>(); // time and value
    long at = START + 3_000;
    for (int step : steps) {
      at += step * 1000L;
      all.add(new long[] {at, step});
      boolean ended = means.accept(at, step);
      long span = at / length;
      long before =
          all.stream()
              .map(a -> a[0] / length)
              .filter(s -> s < span)
              .reduce((a, b) -> b)
              .orElse(-1L);
      boolean first = all.stream().filter(a -> a[0] / length == span).count() == 1;
      assertThat(ended).isEqualTo(first && before >= 0);
      if (ended) {
        assertThat(means.fromMs()).isEqualTo(before * length);
        assertThat(means.mean())
            .isCloseTo(
                all.stream()
                    .filter(a -> a[0] / length == before)
                    .mapToLong(a -> a[1])
                    .average()
                    .orElseThrow(),
                within(1e-9));
      }
    }
  }

  /** A dead gauge whose archive draws lines between two points, among living readings. */
  @Property(seed = "20260308")
  void aDrawnLineIsSeenAsLongAsItIs(
      @ForAll @IntRange(min = 3, max = 200) int points,
      @ForAll @IntRange(min = -50, max = 50) int slope) {
    StraightLine line = new StraightLine(0.005);
    long at = START;
    double[] living = {46_000, 46_031.7, 45_990.2, 46_077.1, 45_950.9};
    for (double value : living) {
      line.accept(at, value);
      at += 1000;
    }
    for (int i = 0; i < points; i++) {
      line.accept(at, 46_000 + slope * i);
      at += 1000;
    }
    // the last living reading and the first of the line make a line of two, which then breaks
    assertThat(line.lengthMs()).isBetween((points - 1) * 1000L, points * 1000L);
    line.accept(at, 40_000);
    line.accept(at + 1000, 46_000);
    assertThat(line.lengthMs()).as("it lives").isEqualTo(1000);
  }

  @Property(seed = "20260308")
  void theRunIsThatOfTheLastValueAndTheChangesAreCounted(
      @ForAll @Size(min = 1, max = 60) List<@IntRange(min = 0, max = 2) Integer> values) {
    Repeats repeats = new Repeats();
    for (int i = 0; i < values.size(); i++) {
      repeats.accept(START + i * 1000L, values.get(i));
    }
    int last = values.size() - 1;
    int from = last;
    while (from > 0 && values.get(from - 1).equals(values.get(last))) {
      from--;
    }
    long changes = 0;
    for (int i = 1; i <= last; i++) {
      changes += values.get(i).equals(values.get(i - 1)) ? 0 : 1;
    }
    assertThat(repeats.unchangedMs()).isEqualTo((last - from) * 1000L);
    assertThat(repeats.unchangedCount()).isEqualTo(last - from + 1);
    assertThat(repeats.changes()).isEqualTo(changes);
  }

  @Property(seed = "20260308")
  void whatIsNotLaterThanAllBeforeItIsLate(
      @ForAll @Size(min = 1, max = 60) List<@IntRange(min = 0, max = 40) Integer> seconds) {
    Lateness lateness = new Lateness();
    int newest = -1;
    int streak = 0;
    int count = 0;
    for (int second : seconds) {
      boolean late = second <= newest;
      assertThat(lateness.late(START + second * 1000L)).isEqualTo(late);
      if (late) {
        streak++;
        count++;
      } else {
        lateness.end();
        streak = 0;
        newest = second;
      }
      assertThat(lateness.streak()).isEqualTo(streak);
      assertThat(lateness.count()).isEqualTo(count);
      assertThat(lateness.backMs()).isEqualTo(late ? (newest - second) * 1000L : 0);
    }
  }

  /** A gauge that was set anew steps between two readings and stays; a wild reading does not. */
  @Test
  void aStepThatStaysIsAJumpAndAWildReadingIsNone() {
    Jump jump = new Jump(60_000);
    for (int s = 0; s < 30; s++) {
      jump.accept(START + s * 1000L, s == 10 ? 45_900 : s == 20 ? 46_120 : 46_000);
    }
    assertThat(jump.largestFall()).as("a wild reading, or its end").isZero();
    assertThat(jump.largestRise()).isZero();
    for (int s = 30; s < 60; s++) {
      jump.accept(START + s * 1000L, 45_700);
    }
    assertThat(jump.largestFall()).isEqualTo(300);
    assertThat(jump.largestRise()).isZero();
    for (int s = 60; s < 200; s++) {
      jump.accept(START + s * 1000L, 45_700);
    }
    assertThat(jump.largestFall()).as("long ago").isZero();
  }

  @Test
  void whatWasReadOutsideTheRangeLastsUntilOneInsideComes() {
    Outside outside = new Outside();
    assertThat(outside.now()).isFalse();
    outside.accept(START, START + 500, -1);
    outside.accept(START + 4000, START + 4500, -2);
    assertThat(outside.now()).isTrue();
    assertThat(outside.last()).isEqualTo(-2);
    assertThat(outside.count()).isEqualTo(2);
    assertThat(outside.receivedMs()).isEqualTo(START + 4500);
    outside.end();
    assertThat(outside.now()).isFalse();
    outside.accept(START + 9000, START + 9000, -3);
    assertThat(outside.count()).isEqualTo(3);
  }
}

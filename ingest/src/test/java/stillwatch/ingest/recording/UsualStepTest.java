package stillwatch.ingest.recording;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.LongRange;
import net.jqwik.api.constraints.Size;

/** The usual step and the gaps of a recording, against a look at all that was taken. */
class UsualStepTest {
  @Property(seed = "20260308")
  void itIsTheMedianOfTheLastThirtyOneSteps(
      @ForAll @Size(max = 100) List<@LongRange(min = 1, max = 50) Long> steps) {
    UsualStep usual = new UsualStep();
    steps.forEach(usual::add);
    List<Long> last =
        steps.subList(Math.max(0, steps.size() - 31), steps.size()).stream().sorted().toList();
    assertThat(usual.known()).isEqualTo(last.size());
    if (last.isEmpty()) {
      assertThat(usual.ms()).isEqualTo(1000);
      return;
    }
    long median = usual.ms();
    assertThat(last).contains(median);
    assertThat(2 * last.stream().filter(s -> s <= median).count())
        .isGreaterThanOrEqualTo(last.size());
    assertThat(2 * last.stream().filter(s -> s < median).count()).isLessThan(last.size());
  }

  @Property(seed = "20260308")
  void aStampLiesInAGapWhereItIsBetweenTheTwoStampsOfOneOfTheLastSixteen(
      @ForAll @Size(max = 40) List<@IntRange(min = 0, max = 9) Integer> lengths,
      @ForAll @IntRange(min = 0, max = 600) int ms) {
    Gaps gaps = new Gaps();
    boolean expected = false;
    int from = 0;
    for (int i = 0; i < lengths.size(); i++) {
      int to = from + lengths.get(i);
      gaps.add(from, to);
      expected |= i >= lengths.size() - 16 && ms > from && ms < to;
      from = to + 5;
    }
    assertThat(gaps.hold(ms)).isEqualTo(expected);
  }
}

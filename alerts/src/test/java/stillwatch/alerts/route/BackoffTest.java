package stillwatch.alerts.route;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.random.RandomGenerator;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;

/** The waits between attempts. */
class BackoffTest {
  private final Backoff backoff = new Backoff(1000, 300_000, RandomGenerator.getDefault());

  @Property
  void doublesUpToTheLongestAndLeavesHalfToChance(
      @ForAll @IntRange(min = 1, max = 1000) int attempts) {
    double whole = Math.min(300_000, 1000 * Math.pow(2, attempts - 1));
    assertThat((double) backoff.afterMs(attempts)).isBetween(whole / 2 - 1, whole);
  }
}

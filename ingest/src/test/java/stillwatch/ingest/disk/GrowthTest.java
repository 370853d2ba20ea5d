package stillwatch.ingest.disk;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

/** How long the disk lasts, where the rate is known because the test made it. */
class GrowthTest {
  private static final long SECOND = 1000;

  private final Growth growth = new Growth();

  @Property(seed = "20260308")
  void aSteadyRateUsesUpWhatIsFreeInThatTime(
      @ForAll @IntRange(min = 1, max = 1_000_000) int bytesPerS,
      @ForAll @IntRange(min = 600, max = 7200) int forS) {
    Growth some = new Growth();
    long free = 1L << 40;
    for (int s = 0; s <= forS; s += 10) {
      some.take(s * SECOND, free - (long) bytesPerS * s);
    }
    long leftS = (free - (long) bytesPerS * (forS / 10 * 10L)) / bytesPerS;
    assertThat(some.left().orElseThrow().toSeconds()).isBetween(leftS - 1, leftS + 1);
  }

  @Test
  void nothingIsSaidBeforeTenMinutesNorWhileItDoesNotFill() {
    for (int s = 0; s < 600; s += 10) {
      growth.take(s * SECOND, 1_000_000 - s);
      assertThat(growth.left()).isEmpty();
    }
    growth.take(600 * SECOND, 1_000_000 - 600);
    assertThat(growth.left()).isPresent();
    growth.take(610 * SECOND, 2_000_000);
    assertThat(growth.left()).as("it was emptied").isEmpty();
  }

  @Test
  void whatWasWrittenHalfAnHourAgoCountsNoLonger() {
    growth.take(0, 10_000_000);
    growth.take(10 * SECOND, 1_000_000);
    for (int s = 20; s <= 1800; s += 10) {
      growth.take(s * SECOND, 1_000_000);
    }
    assertThat(growth.left()).contains(Duration.ofMillis(200 * SECOND));
    growth.take(1820 * SECOND, 1_000_000);
    assertThat(growth.left()).isEmpty();
  }
}

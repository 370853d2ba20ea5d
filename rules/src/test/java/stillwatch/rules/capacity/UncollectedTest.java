package stillwatch.rules.capacity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.util.Set;
import org.junit.jupiter.api.Test;
import stillwatch.rules.well.Uncertain;

/** What would not be collected, against hand calculations. */
class UncollectedTest {
  private static final Reopening THREE =
      Fleet.alike(3, 0.9, Duration.ofDays(1)).against(Uncertain.between(150, 250));

  /**
   * Three units of 100 each take any flow from 150 to 250; two of them 200, which is its middle.
   */
  @Test
  void withoutAUnitTheRestIsSetAgainstBothEndsOfTheFlow() {
    Uncollected all = Uncollected.of(THREE, Set.of());
    assertThat(all.leastM3PerD()).isZero();
    assertThat(all.mostM3PerD()).isZero();
    assertThat(all.now().holds().value()).isEqualTo(1);

    Uncollected two = Uncollected.of(THREE, Set.of("unit B"));
    assertThat(two.leastM3PerD()).isZero();
    assertThat(two.mostM3PerD()).isCloseTo(50, within(1e-9));
    assertThat(two.now().holds().value()).isCloseTo(0.5, within(0.04));

    Uncollected one = Uncollected.of(THREE, Set.of("unit A", "unit B"));
    assertThat(one.leastM3PerD()).isCloseTo(50, within(1e-9));
    assertThat(one.mostM3PerD()).isCloseTo(150, within(1e-9));
    assertThat(one.now().holds().value()).isZero();
  }

  /** All three are up 0.729 of the time; just two 0.243, and half of the flows need no third. */
  @Test
  void theLongRunHasEveryUnitWhateverIsLostNow() {
    double binomial = 0.729 + 0.243 / 2;
    assertThat(Uncollected.of(THREE, Set.of("unit A")).longRun().holds().value())
        .isCloseTo(binomial, within(0.01));
  }
}

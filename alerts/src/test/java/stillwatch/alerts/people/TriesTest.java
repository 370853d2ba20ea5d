package stillwatch.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import stillwatch.alerts.HandSetClock;

class TriesTest {
  private final HandSetClock clock = new HandSetClock("2026-03-08T12:00:00Z");
  private final Tries tries = new Tries(3, clock);

  @Test
  void eachFurtherTryWaitsTwiceAsLongUpToAMinute() {
    List<Long> waits = new ArrayList<>();
    for (int i = 0; i < 11; i++) {
      long wait = tries.waitMs("eve");
      if (wait > 0) {
        clock.forward(Duration.ofMillis(wait - 1));
        assertThat(tries.waitMs("eve")).as("a moment too soon").isEqualTo(1);
        clock.forward(Duration.ofMillis(1));
        assertThat(tries.waitMs("eve")).isZero();
      }
      waits.add(wait / 1000);
    }
    assertThat(waits).containsExactly(0L, 0L, 0L, 1L, 2L, 4L, 8L, 16L, 32L, 60L, 60L);
    assertThat(tries.waitMs("adam")).as("another").isZero();
  }

  @Test
  void aRightTryDoesNotCountAndAQuarterOfAnHourForgets() {
    for (int i = 0; i < 100; i++) {
      assertThat(tries.waitMs("root")).isZero();
      tries.right("root");
    }
    for (int i = 0; i < 3; i++) {
      tries.waitMs("eve");
    }
    assertThat(tries.waitMs("eve")).isPositive();
    clock.forward(Duration.ofMinutes(15).plusMillis(1));
    assertThat(tries.waitMs("eve")).isZero();
    assertThat(tries.waitMs("eve")).isZero();
  }

  @Test
  void onlyTheNewestAreRemembered() {
    for (int i = 0; i < 3; i++) {
      tries.waitMs("eve");
    }
    for (int i = 0; i < 9_999; i++) {
      tries.waitMs("somebody " + i);
    }
    assertThat(tries.waitMs("eve")).isPositive();
    for (int i = 0; i < 10_000; i++) {
      tries.waitMs("somebody else " + i);
    }
    assertThat(tries.waitMs("eve")).as("forgotten, or memory would grow").isZero();
  }
}

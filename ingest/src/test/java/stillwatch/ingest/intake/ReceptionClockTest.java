package stillwatch.ingest.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.LongRange;
import org.junit.jupiter.api.Test;

/** The time of reception under a wall clock that people and daemons set. */
class ReceptionClockTest {
  private long wallMs = 1_000_000;
  private long steadyNs;

  private final ReceptionClock clock =
      new ReceptionClock(
          new Clock() {
            @Override
            public long millis() {
              return wallMs;
            }

            @Override
            public Instant instant() {
              return Instant.ofEpochMilli(wallMs);
            }

            @Override
            public ZoneId getZone() {
              return ZoneOffset.UTC;
            }

            @Override
            public Clock withZone(ZoneId zone) {
              return this;
            }
          },
          () -> steadyNs);

  @Property
  void neverRunsBackHoweverTheWallClockIsSet(
      @ForAll List<@LongRange(min = -10_000_000, max = 10_000_000) Long> jumps) {
    long before = clock.nowMs();
    for (long jump : jumps) {
      wallMs += jump;
      steadyNs += 1_000_000_000;
      long now = clock.nowMs();
      assertThat(now).isGreaterThanOrEqualTo(before).isGreaterThanOrEqualTo(wallMs);
      before = now;
    }
  }

  @Test
  void goesOnAtTheSteadyPaceWhileTheWallClockIsBehind() {
    clock.startAt(5_000_000);
    steadyNs += 7_000_000_000L;
    assertThat(clock.nowMs()).isEqualTo(5_007_000);
    wallMs = 6_000_000;
    assertThat(clock.nowMs()).isEqualTo(6_000_000);
  }
}

package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;

/** A source that once was an hour ahead within what was believed, and speaks irregularly since. */
class SourceClockTest {
  private static final long HOUR_MS = 3_600_000;

  private final SourceClock clock = new SourceClock(2 * HOUR_MS);
  private long receivedMs = 1_772_323_200_000L;

  /** A frame stamped so long after its reception that comes so long after the last. */
  private SourceClock.Place frame(long afterMs, long stampedAfterMs) {
    receivedMs += afterMs;
    return clock.accept(
        new Frame(
            "w",
            receivedMs + stampedAfterMs,
            receivedMs,
            GaugeSet.of("P"),
            new double[] {1},
            new byte[1]));
  }

  private void deafen() {
    assertThat(frame(1000, HOUR_MS)).isEqualTo(SourceClock.Place.ON);
    for (int i = 1; i <= 20; i++) {
      // now it is right, but late by another time each time: never at the pace of reception
      assertThat(frame(30_000, i % 2 == 0 ? 0 : -25_000)).isEqualTo(SourceClock.Place.BEHIND);
    }
  }

  @Test
  void whoSaysThatItWasSetLetsItBeHeardAtOnce() {
    deafen();
    clock.wasSet();
    assertThat(frame(30_000, 0)).isEqualTo(SourceClock.Place.ON);
    long first = clock.atMs();
    assertThat(frame(30_000, -25_000)).isEqualTo(SourceClock.Place.ON);
    assertThat(clock.atMs() - first).as("at the source's own pace").isEqualTo(5000);
    assertThat(clock.atMs() - receivedMs).isLessThan(HOUR_MS);
  }

  @Test
  void itChangesNothingForOneThatGoesOn() {
    assertThat(frame(1000, -3000)).isEqualTo(SourceClock.Place.ON);
    clock.wasSet();
    assertThat(frame(1000, -3000)).isEqualTo(SourceClock.Place.ON);
    assertThat(clock.atMs()).isEqualTo(receivedMs - 3000);
    assertThat(clock.forwardMs()).isZero();
  }
}

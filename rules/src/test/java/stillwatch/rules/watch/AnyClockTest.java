package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;

/** However often and far the clock of a source is set, its gauges are not long deaf. */
class AnyClockTest {
  private static final long START = 1_772_323_200_000L;
  private static final long TOLERANCE_MS = 120_000;
  private static final GaugeSet P = GaugeSet.of("P");

  /** Three frames show that a clock was set; the last five seconds it goes back are waited for. */
  private static final int MOST_DEAF = 20;

  private static Frame frame(long atMs, long receivedMs) {
    return new Frame("w", atMs, receivedMs, P, new double[] {1}, new byte[1]);
  }

  /** Each step holds for half a minute at a frame a second. */
  @Property(seed = "20260308")
  void aSteadySourceIsHeardAgainSoonAfterEachSetting(
      @ForAll @Size(min = 1, max = 8) List<@IntRange(min = -7200, max = 7200) Integer> offsets) {
    SourceClock clock = new SourceClock(TOLERANCE_MS);
    long receivedMs = START;
    long lastMs = Long.MIN_VALUE;
    int deaf = 0;
    for (int offsetS : offsets) {
      for (int i = 0; i < 30; i++) {
        receivedMs += 1000;
        SourceClock.Place place = clock.accept(frame(receivedMs + offsetS * 1000L, receivedMs));
        if (place == SourceClock.Place.ON) {
          assertThat(clock.atMs()).as("times go on, %s", offsets).isGreaterThan(lastMs);
          assertThat(clock.atMs() - receivedMs)
              .as("none is believed far ahead, %s", offsets)
              .isLessThanOrEqualTo(TOLERANCE_MS);
          lastMs = clock.atMs();
          deaf = 0;
        } else {
          deaf++;
        }
        assertThat(deaf).as("deaf, %s", offsets).isLessThanOrEqualTo(MOST_DEAF);
      }
    }
  }

  /** A clock that is right again is believed as it is: what was moved is moved no longer. */
  @Property(seed = "20260308")
  void onceTheClockIsRightAgainItsOwnTimesCount(
      @ForAll @IntRange(min = -7200, max = 7200) int offsetS) {
    SourceClock clock = new SourceClock(TOLERANCE_MS);
    long receivedMs = START;
    for (int i = 0; i < 400; i++) {
      receivedMs += 1000;
      long off = i >= 60 && i < 120 ? offsetS * 1000L : 0;
      clock.accept(frame(receivedMs + off - 300, receivedMs));
    }
    assertThat(clock.forwardMs()).isZero();
    assertThat(clock.atMs()).isEqualTo(receivedMs - 300);
  }

  /** A backlog comes faster than it is stamped: it is left where it belongs. */
  @Property(seed = "20260308")
  void aBacklogIsLeftWhereItBelongs(@ForAll @IntRange(min = 60, max = 3600) int lengthS) {
    SourceClock clock = new SourceClock(TOLERANCE_MS);
    long receivedMs = START + lengthS * 1000L;
    assertThat(clock.accept(frame(receivedMs, receivedMs))).isEqualTo(SourceClock.Place.ON);
    for (int s = 1; s < lengthS; s++) {
      receivedMs += 20;
      assertThat(clock.accept(frame(START + s * 1000L, receivedMs)))
          .isEqualTo(SourceClock.Place.BEHIND);
      assertThat(clock.atMs()).isEqualTo(START + s * 1000L);
    }
    assertThat(clock.forwardMs()).isZero();
  }
}

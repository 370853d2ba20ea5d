package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Operation.What;

/** Who is near the well, against a second reading of the log. Presence makes a sound doubtful. */
class PresencesTest {
  private static final long START = 1_772_967_600_000L;
  private static final long HOUR = 3_600_000;
  private static final int LONGEST_H = 12;

  private final Presences presences = new Presences(LONGEST_H * HOUR);

  private void logged(What what, int hour) {
    log(presences, what, hour);
  }

  private static void log(Presences presences, What what, int hour) {
    long atMs = START + hour * HOUR;
    presences.accept(
        new Operation("larkspur-2", atMs, atMs, what, what.wire() + " " + hour, ""), atMs);
  }

  private List<What> near(int hour, int withinHours) {
    return presences.lately(START + hour * HOUR, withinHours * HOUR).stream()
        .map(Presence::what)
        .toList();
  }

  /**
   * It is there when it came, or was said to be there, less than the longest stay ago, and nobody
   * has said since that it left.
   */
  @Property(seed = "20260308")
  void itIsThereFromWhatWasLoggedUntilItsEndOrTheLongestStay(
      @ForAll @Size(min = 1, max = 25) List<@IntRange(min = 0, max = 8) Integer> log) {
    Presences some = new Presences(LONGEST_H * HOUR);
    What[] begins = {What.VESSEL, What.ROV, What.PUMPING};
    What[] ends = {What.VESSEL_LEFT, What.ROV_OUT, What.PUMPING_ENDED};
    int[] lastBegin = {-1, -1, -1};
    int[] lastEnd = {-1, -1, -1};
    int hour = 0;
    for (int entry : log) {
      hour += 1 + entry; // each entry is later than the last
      int sort = entry % 3;
      boolean begin = entry % 2 == 0;
      log(some, begin ? begins[sort] : ends[sort], hour);
      (begin ? lastBegin : lastEnd)[sort] = hour;
      int now = hour + entry;
      List<What> there = some.lately(START + now * HOUR, 0).stream().map(Presence::what).toList();
      for (int i = 0; i < 3; i++) {
        boolean expected =
            lastBegin[i] >= 0 && lastBegin[i] > lastEnd[i] && now < lastBegin[i] + LONGEST_H;
        assertThat(there.contains(begins[i]))
            .as("%s at %d of %s", begins[i], now, log)
            .isEqualTo(expected);
      }
    }
  }

  @Test
  void whoHasLeftIsNamedForAsLongAsAskedAndNoLonger() {
    logged(What.VESSEL, 0);
    logged(What.VESSEL_LEFT, 3);
    assertThat(near(2, 0)).containsExactly(What.VESSEL);
    assertThat(near(3, 0)).isEmpty();
    assertThat(near(4, 2)).containsExactly(What.VESSEL);
    assertThat(near(5, 2)).isEmpty();
    assertThat(presences.lastMs(START + 9 * HOUR)).isEqualTo(START + 3 * HOUR);
  }

  @Test
  void oneEndDoesNotEndAnother() {
    logged(What.VESSEL, 0);
    logged(What.ROV, 1);
    logged(What.VESSEL_LEFT, 2);
    assertThat(near(3, 0)).containsExactly(What.ROV);
  }

  @Test
  void whatIsLoggedForLaterIsNotThereYet() {
    logged(What.PUMPING, 5);
    assertThat(near(4, 3)).isEmpty();
    assertThat(presences.lastMs(START + 4 * HOUR)).isEqualTo(Long.MIN_VALUE);
    assertThat(near(5, 0)).containsExactly(What.PUMPING);
  }

  /** Somebody writes down in the evening when the boat came, after its leaving was logged. */
  @Test
  void anArrivalWrittenDownAfterItsEndDoesNotBringBackWhoHasLeft() {
    logged(What.VESSEL, 1);
    logged(What.VESSEL_LEFT, 3);
    logged(What.VESSEL, 2);
    assertThat(near(4, 0)).isEmpty();
    assertThat(presences.indicators(START + 4 * HOUR))
        .singleElement()
        .satisfies(p -> assertThat(p.there()).isFalse());
    logged(What.VESSEL, 5);
    assertThat(near(6, 0)).as("it has come back").containsExactly(What.VESSEL);
  }

  @Test
  void whatWasWrittenDownLateDoesNotShortenAStay() {
    logged(What.ROV, 10);
    logged(What.ROV, 4);
    assertThat(near(10 + LONGEST_H - 1, 0)).containsExactly(What.ROV);
    assertThat(near(10 + LONGEST_H, 0)).isEmpty();
  }
}

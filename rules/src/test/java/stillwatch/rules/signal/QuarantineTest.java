package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import stillwatch.rules.signal.Quarantine.Verdict;

/** Readings that no well can make, told by hand: which wait, which are thrown away or let go. */
class QuarantineTest {
  private static final double LEVEL = 44_000;

  private long atMs;

  private Verdict read(Quarantine quarantine, long periodMs, double value) {
    atMs += periodMs;
    Verdict verdict = quarantine.accept(atMs, atMs, value);
    if (verdict == Verdict.RELEASED) {
      quarantine.taken();
    }
    return verdict;
  }

  @Test
  void aStepThatStaysIsLetGoAfterHalfAMinute() {
    Quarantine quarantine = new Quarantine(1000, 100);
    assertThat(read(quarantine, 1000, LEVEL)).isEqualTo(Verdict.PASS);
    for (int s = 0; s < 30; s++) {
      assertThat(read(quarantine, 1000, LEVEL - 5000)).isEqualTo(Verdict.WAITS);
    }
    assertThat(read(quarantine, 1000, LEVEL - 5000)).isEqualTo(Verdict.RELEASED);
  }

  @Test
  void aSlowGaugesStepIsLetGoOnItsSecondReading() {
    Quarantine quarantine = new Quarantine(60_000, 100);
    read(quarantine, 60_000, LEVEL);
    assertThat(read(quarantine, 60_000, LEVEL - 15_000)).isEqualTo(Verdict.WAITS);
    assertThat(read(quarantine, 60_000, LEVEL - 16_000)).isEqualTo(Verdict.RELEASED);
  }

  @Test
  void aLeapThatStayedIsKnownUntilAnotherUndoesItAndBothCount() {
    Quarantine quarantine = new Quarantine(1000, 100);
    read(quarantine, 1000, LEVEL);
    for (int s = 0; s < 40; s++) {
      read(quarantine, 1000, LEVEL + 5000);
    }
    assertThat(quarantine.leap()).isEqualTo(5000);
    assertThat(quarantine.jumps(atMs)).isZero();
    for (int s = 0; s < 40; s++) {
      read(quarantine, 1000, LEVEL + 300);
    }
    assertThat(quarantine.leap()).isZero();
    assertThat(quarantine.jumps(atMs)).isEqualTo(2);
  }

  @Test
  void whatAnotherGaugeShowsTooIsNoLeap() {
    Quarantine quarantine = new Quarantine(1000, 100);
    read(quarantine, 1000, LEVEL);
    read(quarantine, 1000, LEVEL + 5000);
    quarantine.let();
    quarantine.taken();
    assertThat(quarantine.leap()).isZero();
  }

  @Test
  void whatComesBackIsThrownAway() {
    Quarantine quarantine = new Quarantine(1000, 100);
    read(quarantine, 1000, LEVEL);
    read(quarantine, 1000, LEVEL - 5000);
    assertThat(read(quarantine, 1000, LEVEL + 50)).isEqualTo(Verdict.DISCARDED);
    assertThat(quarantine.discarded()).isEqualTo(1);
  }

  /**
   * A downhole gauge that falls by 15 MPa from one reading to the next and jumps up again every
   * fourth, for an hour, as a gauge with a broken line does; then it stands.
   */
  @Test
  void aGaugeThatSwingsWildlyWaitsUntilItHasCalmedDown() {
    Quarantine quarantine = new Quarantine(30_000, 100);
    read(quarantine, 30_000, LEVEL);
    for (int i = 0; i < 120; i++) {
      assertThat(read(quarantine, 30_000, 28_000 - 9_000 * (i % 4)))
          .as("reading %s", i)
          .isEqualTo(Verdict.WAITS);
    }
    assertThat(quarantine.turned()).isFalse();
    int stood = 0;
    while (read(quarantine, 30_000, 20_000) == Verdict.WAITS) {
      stood++;
    }
    assertThat(stood).as("readings at rest before it is believed").isBetween(9, 13);
  }

  @Test
  void whatWaitsIsBounded() {
    Quarantine quarantine = new Quarantine(1000, 100);
    read(quarantine, 1000, LEVEL);
    for (int i = 0; i < 5000; i++) {
      read(quarantine, 1000, i % 2 == 0 ? 10_000 : 30_000);
      assertThat(quarantine.waiting()).isBetween(1, 512);
    }
    assertThat(quarantine.discarded()).isPositive();
  }

  /** The last reading believed caught the gauge early on its way, when it was not yet too fast. */
  @Test
  void aGaugeIsBackWhereItWasBeforeItsLastGoodReading() {
    Quarantine quarantine = new Quarantine(30_000, 100);
    read(quarantine, 30_000, LEVEL);
    assertThat(read(quarantine, 30_000, LEVEL - 2_000)).isEqualTo(Verdict.PASS);
    assertThat(read(quarantine, 30_000, LEVEL - 8_000)).isEqualTo(Verdict.WAITS);
    assertThat(read(quarantine, 30_000, LEVEL - 14_000)).isEqualTo(Verdict.WAITS);
    assertThat(read(quarantine, 30_000, LEVEL)).isEqualTo(Verdict.DISCARDED);
  }

  /** To pass a level between the two on the way is not to be back. */
  @Test
  void aGaugeThatPassesBetweenIsNotBack() {
    Quarantine quarantine = new Quarantine(30_000, 100);
    read(quarantine, 30_000, LEVEL);
    read(quarantine, 30_000, LEVEL - 2_000);
    read(quarantine, 30_000, LEVEL - 8_000);
    assertThat(read(quarantine, 30_000, LEVEL - 1_000)).isEqualTo(Verdict.WAITS);
  }

  @Test
  void eachTurnOfAWildGaugeIsOneJumpMoreAndTellsForSixHours() {
    Quarantine quarantine = new Quarantine(1000, 100);
    read(quarantine, 1000, LEVEL);
    read(quarantine, 1000, LEVEL - 5000);
    read(quarantine, 1000, LEVEL - 1000);
    read(quarantine, 1000, LEVEL - 6000);
    assertThat(read(quarantine, 1000, LEVEL)).isEqualTo(Verdict.DISCARDED);
    assertThat(quarantine.discarded()).isEqualTo(1);
    assertThat(quarantine.jumps(atMs)).isEqualTo(3);
    assertThat(quarantine.jumps(atMs + 6 * 3_600_000L)).isEqualTo(3);
    assertThat(quarantine.jumps(atMs + 6 * 3_600_000L + 1)).isZero();
  }
}

package stillwatch.bench.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A few faults of a fixed seed; more of them by {@code bench/faults}. */
@Timeout(900)
class FaultsTest {
  private static final long SEED = 7;

  @TempDir Path folder;

  @Test
  void rulesAndDeskKilledOvertakenAndToldAgainLoseNothingAndDoubleNothing() throws Exception {
    Tally tally = FaultsBench.in(folder).simulated(SEED, 100);
    assertThat(tally.failures()).isEmpty();
    assertThat(tally.alerts()).isGreaterThan(10);
  }

  @Test
  void theSameSeedGivesTheSameRun() throws Exception {
    String first = FaultsBench.in(folder).simulated(SEED, 1).toString();
    assertThat(FaultsBench.in(folder).simulated(SEED, 1).toString()).isEqualTo(first);
  }

  @Test
  void aWatchThatIsKilledAndWhoseBrokerIsKilledKeepsWhatItAcceptedAndSaysWhatItSaw()
      throws Exception {
    Tally tally =
        FaultsBench.in(folder).live(SEED, List.of(Kind.WATCH_KILLED, Kind.BROKER_KILLED), false);
    assertThat(tally.failures()).isEmpty();
    assertThat(tally.alerts()).isPositive();
  }
}

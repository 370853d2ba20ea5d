package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Observation.Result;
import stillwatch.rules.indicator.PassIndicator;
import stillwatch.rules.plan.TestPlan;

/** Who has looked, in whatever order it is written down. */
class PassesTest {
  private static final long START = 1_772_967_600_000L;
  private static final long MIN = 60_000;

  private final Passes passes =
      new Passes(List.of(new TestPlan.Pass("camera", Duration.ofHours(6))));

  private void seen(String means, int atMin, int receivedMin, Result result) {
    passes.accept(
        new Observation(
            "larkspur-2",
            START + atMin * MIN,
            START + receivedMin * MIN,
            means,
            result,
            result.wire() + " at " + atMin,
            "crew"));
  }

  private PassIndicator camera(int nowMin) {
    return passes.all("larkspur-2", START, START + nowMin * MIN).get(0);
  }

  @Test
  void thePassIsDueSoLongAfterTheStartAndAfterEachLook() {
    assertThat(camera(6 * 60).overdueS()).isZero();
    assertThat(camera(7 * 60).overdueS()).isEqualTo(3600);
    seen("camera", 60, 60, Result.CLEAR);
    assertThat(camera(7 * 60).overdueS()).isZero();
    assertThat(camera(7 * 60).result()).isEqualTo("clear");
  }

  @Test
  void nothingIsDueBeforeTheWellIsWatchedNorByMeansNobodyPlanned() {
    seen("sonar", 5, 5, Result.INCONCLUSIVE);
    List<PassIndicator> all = passes.all("larkspur-2", Long.MIN_VALUE, START + 99 * 60 * MIN);
    assertThat(all).extracting(PassIndicator::means).containsExactly("camera", "sonar");
    assertThat(all).extracting(PassIndicator::overdueS).containsOnly(Double.NEGATIVE_INFINITY);
  }

  /** The morning's clear pass, written down after bubbles were seen, does not unsee them. */
  @Test
  void aClearLookFromBeforeWhatWasSeenDoesNotUnseeIt() {
    seen("camera", 60, 60, Result.ADVERSE);
    seen("camera", 0, 70, Result.CLEAR);
    assertThat(camera(71).result()).isEqualTo("adverse");
    assertThat(camera(71).atMs()).isEqualTo(START + 60 * MIN);
    seen("camera", 10, 72, Result.INCONCLUSIVE);
    assertThat(camera(73).result()).isEqualTo("adverse");
    seen("camera", 75, 75, Result.CLEAR);
    assertThat(camera(76).result()).as("a new look is another thing").isEqualTo("clear");
  }

  /** Bubbles found on the tape of an earlier pass count, though the camera has since seen none. */
  @Test
  void whatIsFoundLaterOnAnEarlierLookCounts() {
    seen("camera", 60, 60, Result.CLEAR);
    seen("camera", 50, 90, Result.ADVERSE);
    assertThat(camera(91).result()).isEqualTo("adverse");
  }

  @Test
  void aLookStampedAheadIsNoNewerThanItsReception() {
    seen("camera", 600, 10, Result.ADVERSE);
    seen("camera", 20, 20, Result.CLEAR);
    assertThat(camera(21).result()).isEqualTo("clear");
  }
}

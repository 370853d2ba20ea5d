package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import stillwatch.rules.plan.TestPlan.ClosureStep;
import stillwatch.rules.well.FlowHistory;

/** What logged steps make of the flow, against a second reading of the log. */
class ClosureStepsTest {
  private static final long START = 1_772_967_600_000L;
  private static final long HOUR = 3_600_000;
  private static final double FLOWED = 100;
  private static final List<ClosureStep> PLANNED =
      List.of(
          new ClosureStep("first", 0.7),
          new ClosureStep("second", 0.3),
          new ClosureStep("last", 0.0));

  private final ClosureSteps steps = new ClosureSteps(PLANNED, FLOWED);

  /** A log read backwards: the closures since the last opening are those that are done. */
  @Property(seed = "20260308")
  void theStepsDoneAreTheClosuresSinceTheWellWasLastOpened(
      @ForAll @Size(max = 30) List<@IntRange(min = 0, max = 3) Integer> log,
      @ForAll @IntRange(min = -90, max = 90) int back) {
    ClosureSteps some = new ClosureSteps(PLANNED, FLOWED);
    long latest = Long.MIN_VALUE;
    long shutIn = Long.MIN_VALUE;
    for (int i = 0; i < log.size(); i++) {
      long stamped = START + i * HOUR + (i % 3 == 2 ? back * 60_000L : 0);
      latest = Math.max(latest, stamped);
      boolean opens = log.get(i) == 0;
      if (opens) {
        some.open(stamped, 1);
      } else {
        some.close(stamped, "step");
      }
      int closed = 0;
      for (int j = i; j >= 0 && log.get(j) != 0; j--) {
        closed++;
      }
      shutIn = opens ? Long.MIN_VALUE : closed == PLANNED.size() ? latest : shutIn;
      assertThat(some.done()).isEqualTo(Math.min(closed, PLANNED.size()));
      assertThat(some.shutIn()).isEqualTo(closed >= PLANNED.size());
      assertThat(some.shutInMs()).isEqualTo(closed >= PLANNED.size() ? shutIn : Long.MIN_VALUE);
      assertThat(some.lastMs()).isEqualTo(latest);
      FlowHistory flow = some.history();
      assertThat(flow == null).isEqualTo(closed == 0);
      if (flow != null) {
        assertThat(flow.steps().get(flow.steps().size() - 1).rate())
            .isEqualTo(PLANNED.get(some.done() - 1).leaves());
      }
    }
  }

  /** The volume by hand: 100 h at all, 2 h at seven tenths, 3 h at three tenths, then nothing. */
  @Test
  void theVolumeIsThatOfTheRatesBetweenTheSteps() {
    steps.close(START, "step");
    steps.close(START + 2 * HOUR, "step");
    steps.close(START + 5 * HOUR, "step");
    FlowHistory flow = flow();
    assertThat(flow.volume(1000)).isCloseTo(100 + 2 * 0.7 + 3 * 0.3, within(1e-9));
    assertThat(flow.shutIn()).isTrue();
    assertThat(steps.clock(START)).isCloseTo(FLOWED, within(1e-9));
    assertThat(steps.hours(START + 7 * HOUR)).isEqualTo(2);
  }

  @Test
  void anOpeningLetsAllFlowAgainUntilTheNextClosure() {
    steps.close(START, "step");
    steps.open(START + HOUR, 1);
    assertThat(steps.history()).as("nobody knows how long it will flow").isNull();
    steps.close(START + 4 * HOUR, "step");
    assertThat(flow().volume(FLOWED + 4)).isCloseTo(100 + 0.7 + 3, within(1e-9));
    assertThat(steps.done()).isEqualTo(1);
  }

  /** By hand: as before, then 1 h at a fifth, 2 h at all. */
  @Test
  void anOpeningByStepsLetsFlowWhatEachSays() {
    steps.close(START, "step");
    steps.open(START + HOUR, 0.2);
    steps.open(START + 2 * HOUR, 1);
    steps.close(START + 4 * HOUR, "step");
    assertThat(flow().volume(FLOWED + 4)).isCloseTo(100 + 0.7 + 0.2 + 2, within(1e-9));
  }

  @Test
  void aStepThatLeavesNothingShutsInWhereverItStands() {
    ClosureSteps early =
        new ClosureSteps(
            List.of(new ClosureStep("ram", 0), new ClosureStep("choke", 0)), Double.NaN);
    early.close(START, "step");
    assertThat(early.shutIn()).isTrue();
    assertThat(early.done()).isEqualTo(2);
    assertThat(early.history()).as("nobody knows how long it flowed").isNull();
  }

  @Test
  void aClosureMoreThanPlannedDoesNotMoveTheShutIn() {
    for (int i = 0; i < 5; i++) {
      steps.close(START + i * HOUR, "step");
    }
    assertThat(steps.shutInMs()).isEqualTo(START + 2 * HOUR);
    assertThat(steps.lastMs()).isEqualTo(START + 4 * HOUR);
    assertThat(flow().steps()).hasSize(4);
  }

  @Test
  void whereNoneIsPlannedNoStepShutsIn() {
    ClosureSteps none = new ClosureSteps(List.of(), FLOWED);
    none.close(START, "step");
    assertThat(none.shutIn()).isFalse();
    assertThat(none.hours(START)).isNaN();
    assertThat(none.lastMs()).isEqualTo(START);
  }

  private FlowHistory flow() {
    FlowHistory flow = steps.history();
    List<FlowHistory.Step> known = flow == null ? new ArrayList<>() : flow.steps();
    return new FlowHistory(known);
  }
}

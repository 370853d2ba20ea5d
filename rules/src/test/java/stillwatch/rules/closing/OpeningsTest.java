package stillwatch.rules.closing;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/**
 * The openings of a test against the demo plan's opening list: six steps, each held for 15 min, the
 * first with a fall of 0.3 to 3.5 MPa within 10 min. Expected texts and times follow from the plan.
 */
class OpeningsTest {
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped());
  private static final long MIN = 60_000;
  private static final GaugeSet TWINS = GaugeSet.of("PT-1", "PT-2");

  private final Cycles cycles = new Cycles(PLAN);
  private long nowMs = 1_772_967_600_000L;

  private void reads(long minutes, double kPa) {
    for (long untilMs = nowMs + minutes * MIN; nowMs < untilMs; nowMs += 10_000) {
      cycles.accept(Frame.good("larkspur-2", nowMs, nowMs, TWINS, kPa, kPa - 6));
    }
  }

  private void shutIn() {
    PLAN.closing().forEach(s -> cycles.closed(s.name(), nowMs, nowMs));
    cycles.shutIn(nowMs);
    reads(60, 46_900);
  }

  private void opens(int number) {
    cycles.opened(PLAN.opening().get(number - 1).name(), nowMs, nowMs, 0.1);
  }

  private List<String> departures() {
    return cycles.departures().stream()
        .filter(d -> d.direction() == Direction.OPENING)
        .map(d -> d.subject() + ", " + d.kind().wire() + ": " + d.why())
        .toList();
  }

  @Test
  void anOpeningAsPlannedDepartsInNothingAndTellsStepNextHoldAndReadings() {
    shutIn();
    long firstMs = nowMs;
    opens(1);
    reads(16, 45_400);
    Opening opening = cycles.openings().get(0);

    assertThat(departures()).isEmpty();
    assertThat(opening.begunMs()).isEqualTo(firstMs);
    assertThat(opening.next()).contains(PLAN.opening().get(1));
    assertThat(opening.heldMs()).contains(firstMs + 15 * MIN);
    StepTaken step = opening.steps().get(0);
    assertThat(step.answer()).isEqualTo(Answer.AS_EXPECTED);
    assertThat(step.before()).containsEntry("PT-1", 46_900.0);
    assertThat(step.after()).containsEntry("PT-1", 45_400.0);
  }

  @Test
  void orderHoldAndResponseDepartEachWithASentence() {
    shutIn();
    opens(2);
    reads(4, 46_900);
    opens(1);
    reads(12, 42_000);

    assertThat(departures())
        .containsExactly(
            "opening 1, step 1, order: 'choke part-turn 5 of 6, opened' was logged before"
                + " 'choke part-turn 6 of 6, opened', which the opening list has first",
            "opening 1, step 2, hold: 'choke part-turn 6 of 6, opened' was taken 4 min after"
                + " 'choke part-turn 5 of 6, opened', which is to be held for 15 min",
            "opening 1, step 2, response: After 'choke part-turn 6 of 6, opened' the pressure"
                + " changed by PT-1 -4.900 MPa, PT-2 -4.900 MPa within 10 min; the plan expects"
                + " -3.50 to -0.30 MPa");
  }

  @Test
  void aStepThatNoGaugeAnswersIsNoResponse() {
    shutIn();
    opens(1);
    reads(12, 46_905);
    assertThat(cycles.openings().get(0).steps().get(0).answer()).isEqualTo(Answer.NONE);
    assertThat(departures()).hasSize(1);
  }

  @Test
  void aClosureStepEndsItAndTheNextOpeningHasANumberOfItsOwn() {
    shutIn();
    opens(1);
    reads(1, 46_000);
    long closedMs = nowMs;
    shutIn();
    opens(1);

    assertThat(cycles.openings()).extracting(Opening::number).containsExactly(1, 2);
    assertThat(cycles.openings().get(0).overMs()).contains(closedMs);
    assertThat(cycles.openings().get(0).steps().get(0).answer()).isEqualTo(Answer.CUT_SHORT);
    assertThat(cycles.openings().get(1).overMs()).isEmpty();
  }

  @Test
  void whereNoClosingIsLoggedOnlyAStepOfTheListBeginsOne() {
    cycles.opened("some turn", nowMs, nowMs, 1);
    assertThat(cycles.openings()).isEmpty();
    opens(1);
    assertThat(cycles.openings()).hasSize(1);
  }

  @Test
  void aStepTakenBackInTheClosingIsNoOpening() {
    cycles.closed(PLAN.closing().get(0).name(), nowMs, nowMs);
    opens(6);
    assertThat(cycles.openings()).isEmpty();
  }
}

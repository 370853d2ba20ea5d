package stillwatch.rules.closing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.function.LongToDoubleFunction;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/**
 * Closings of the demo plan, whose list is the source of what is right: six part-turns in order, 15
 * min each, the first with a rise of 6 to 9 MPa within 10 min.
 */
class CyclesTest {
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped());
  private static final long START = 1_772_967_600_000L;
  private static final long MIN = 60_000;
  private static final long HOUR = 60 * MIN;
  private static final GaugeSet TWINS = GaugeSet.of("PT-1", "PT-2");
  private static final String WELL = "larkspur-2";

  private final Cycles cycles = new Cycles(PLAN);
  private long nowMs = START;

  private void reads(long untilMs, LongToDoubleFunction first, LongToDoubleFunction second) {
    for (; nowMs <= untilMs; nowMs += 10_000) {
      cycles.accept(
          Frame.good(
              WELL, nowMs, nowMs, TWINS, first.applyAsDouble(nowMs), second.applyAsDouble(nowMs)));
    }
  }

  private void reads(long untilMs, double kPa) {
    reads(untilMs, ms -> kPa, ms -> kPa - 6);
  }

  private void decided(Decision.Choice choice, String changes) {
    cycles.accept(new Decision(WELL, nowMs, nowMs, choice, "deciders", "so", 0, changes));
  }

  private void step(int number) {
    step(PLAN.closing().get(number - 1).name());
  }

  private void step(String text) {
    cycles.closed(text, nowMs, nowMs);
  }

  private Cycle last() {
    return cycles.all().get(cycles.all().size() - 1);
  }

  private StepTaken taken(int number) {
    return last().steps().get(number - 1);
  }

  private List<String> departures() {
    return cycles.departures().stream().map(d -> d.kind().wire() + ": " + d.why()).toList();
  }

  @Test
  void aStepAsPlannedDepartsInNothingAndTellsTheReadingsBeforeAndAfter() {
    decided(Decision.Choice.GO, "");
    reads(START + 5 * MIN, 21_000);
    step(1);
    assertThat(taken(1).answer()).isEqualTo(Answer.AWAITED);
    reads(nowMs + 12 * MIN, 28_500);

    assertThat(taken(1).answer()).isEqualTo(Answer.AS_EXPECTED);
    assertThat(taken(1).before()).containsEntry("PT-1", 21_000.0).containsEntry("PT-2", 20_994.0);
    assertThat(taken(1).after()).containsEntry("PT-1", 28_500.0).containsEntry("PT-2", 28_494.0);
    assertThat(departures()).isEmpty();
    assertThat(last().next()).contains(PLAN.closing().get(1));
    assertThat(last().heldMs()).contains(taken(1).atMs() + 15 * MIN);
  }

  @Test
  void aRiseOfLessThanThePlanExpectsIsSaidWithItsNumbers() {
    decided(Decision.Choice.GO, "");
    reads(START + 5 * MIN, 21_000);
    step(1);
    reads(nowMs + 12 * MIN, 24_000);

    assertThat(taken(1).answer()).isEqualTo(Answer.BELOW);
    assertThat(departures())
        .containsExactly(
            "response: After 'choke part-turn 1 of 6' the pressure changed by PT-1 +3.000 MPa, PT-2 +3.000 MPa within 10 min; the plan expects +6.00 to +9.00 MPa");
    assertThat(cycles.departures().get(0).knownMs())
        .as("known when the plan has the pressure read, not before")
        .isEqualTo(taken(1).atMs() + 10 * MIN);
  }

  @Test
  void aStepThatNoGaugeAnswersIsNoResponse() {
    decided(Decision.Choice.GO, "");
    reads(START + 5 * MIN, 21_000);
    step(1);
    reads(nowMs + 12 * MIN, 21_010);
    assertThat(taken(1).answer()).isEqualTo(Answer.NONE);
    assertThat(departures()).hasSize(1);
  }

  /** A gauge that stands still while its twin answers is the gauge's matter. */
  @Test
  void oneGaugeAloneDoesNotMakeADeparture() {
    decided(Decision.Choice.GO, "");
    reads(START + 5 * MIN, 21_000);
    step(1);
    reads(nowMs + 12 * MIN, ms -> 28_500, ms -> 20_994);
    assertThat(taken(1).answer()).isEqualTo(Answer.GAUGES_DIFFER);
    assertThat(departures()).isEmpty();
  }

  @Test
  void aGaugeThatFallsSilentDoesNotHoldTheAnswerUp() {
    decided(Decision.Choice.GO, "");
    reads(START + 5 * MIN, 21_000);
    step(1);
    reads(nowMs + 13 * MIN, ms -> 28_500, ms -> Double.NaN);
    assertThat(taken(1).answer()).isEqualTo(Answer.AS_EXPECTED);
    assertThat(taken(1).after()).containsEntry("PT-2", Double.NaN);
  }

  @Test
  void aHoldCutShortIsSaidAndTheResponseOfThatStepIsNotJudged() {
    decided(Decision.Choice.GO, "");
    reads(START + 5 * MIN, 21_000);
    step(1);
    reads(nowMs + 4 * MIN, 22_000);
    step(2);
    reads(nowMs + 12 * MIN, 28_000);

    assertThat(departures())
        .containsExactly(
            "hold: 'choke part-turn 2 of 6' was taken 4 min after 'choke part-turn 1 of 6', which is to be held for 15 min");
    assertThat(taken(1).answer()).isEqualTo(Answer.CUT_SHORT);
    assertThat(taken(2).answer()).isEqualTo(Answer.AS_EXPECTED);
  }

  @Test
  void aStepOutOfOrderIsSaidOnceAndTheListGoesOnWithWhatIsLeft() {
    decided(Decision.Choice.GO, "");
    step(1);
    reads(nowMs + 16 * MIN, Double.NaN);
    step(3);
    assertThat(last().next()).contains(PLAN.closing().get(1));
    reads(nowMs + 16 * MIN, Double.NaN);
    step(3);
    step("a valve nobody planned");

    assertThat(departures())
        .filteredOn(d -> d.startsWith("order"))
        .containsExactly(
            "order: 'choke part-turn 3 of 6' was logged before 'choke part-turn 2 of 6', which the closing list has first",
            "order: 'choke part-turn 3 of 6' was logged a second time",
            "order: 'a valve nobody planned' names no step of the closing list; next was 'choke part-turn 2 of 6'");
    assertThat(last().next()).contains(PLAN.closing().get(3));
  }

  @Test
  void aStepEnteredLateIsPutInItsPlaceWithoutADeparture() {
    decided(Decision.Choice.GO, "");
    step(1);
    reads(nowMs + 40 * MIN, Double.NaN);
    long second = nowMs - 20 * MIN;
    step(3);
    int before = departures().size();
    cycles.closed(PLAN.closing().get(1).name(), second, nowMs);

    assertThat(departures()).hasSize(before);
    assertThat(last().steps()).extracting(StepTaken::atMs).isSorted();
  }

  @Test
  void anOpeningStepInTheClosingTakesTheLastStepBack() {
    decided(Decision.Choice.GO, "");
    step(1);
    reads(nowMs + 16 * MIN, Double.NaN);
    step(2);
    cycles.opened("taken back", nowMs + MIN, nowMs + MIN, 1);
    assertThat(taken(2).undone()).isTrue();
    assertThat(last().next()).contains(PLAN.closing().get(1));
    assertThat(cycles.all()).hasSize(1);
  }

  @Test
  void aFirstStepWithoutAGoIsSaidAndSoIsOneAfterANoGo() {
    step(1);
    assertThat(departures())
        .containsExactly(
            "go: 'choke part-turn 1 of 6' was logged, but no go for this closing is in the log");

    decided(Decision.Choice.CYCLE, "smaller turns");
    decided(Decision.Choice.GO, "");
    decided(Decision.Choice.NO_GO, "");
    step(1);
    assertThat(departures())
        .last()
        .isEqualTo(
            "go: 'choke part-turn 1 of 6' was logged, but the last decision, by deciders, was no-go");
  }

  @Test
  void aGoIsForOneClosingOnly() {
    decided(Decision.Choice.GO, "");
    step(1);
    assertThat(last().go()).isPresent();
    decided(Decision.Choice.CYCLE, "smaller turns");
    step(1);
    assertThat(last().number()).isEqualTo(2);
    assertThat(last().go()).isEmpty();
    assertThat(departures()).hasSize(1);
  }

  @Test
  void aCycleIsAChapterWithItsChangesAndItsOwnHours() {
    decided(Decision.Choice.GO, "");
    step(6);
    cycles.shutIn(nowMs);
    reads(START + 3 * HOUR, ms -> 44_000 + (ms - START) / 3_600.0, ms -> Double.NaN);
    decided(Decision.Choice.CYCLE, "smaller turns");
    long over = nowMs;
    reads(START + 5 * HOUR, 21_000);
    decided(Decision.Choice.GO, "");
    long again = nowMs;
    step(6);
    cycles.shutIn(again);
    reads(again + HOUR + MIN, 43_000);

    assertThat(cycles.all()).extracting(Cycle::number).containsExactly(1, 2);
    Cycle one = cycles.all().get(0);
    Cycle two = cycles.all().get(1);
    assertThat(one.overMs()).contains(over);
    assertThat(two.changes()).isEqualTo("smaller turns");
    assertThat(one.hours().keySet()).containsExactly(1, 2);
    // by hand: 1000 kPa an hour; the median of the minute before is 25 to 30 s old
    assertThat(one.hours().getOrDefault(2, Map.of()).get("PT-1")).isCloseTo(46_000, within(10.0));
    assertThat(two.hours()).containsOnlyKeys(1);
    assertThat(two.hours().get(1)).isEqualTo(Map.of("PT-1", 43_000.0, "PT-2", 42_994.0));
  }

  /** Stamps decide, not arrival: what comes late in one burst is judged as what came in time. */
  @Test
  void aBurstAfterAnOutageGivesTheSame() {
    decided(Decision.Choice.GO, "");
    reads(START + 5 * MIN, 21_000);
    step(1);
    long stepMs = nowMs;
    long received = nowMs + HOUR;
    for (long at = stepMs; at <= stepMs + 12 * MIN; at += 10_000) {
      cycles.accept(Frame.good(WELL, at, received, TWINS, 28_500, 28_494));
    }
    assertThat(taken(1).answer()).isEqualTo(Answer.AS_EXPECTED);
  }
}

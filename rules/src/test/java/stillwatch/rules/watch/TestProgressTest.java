package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Operation.What;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.well.FlowHistory;

/** One progress of the test for rules, page and report: six steps, three phases, 6 h, 48 h. */
class TestProgressTest {
  private static final long MIN = 60_000;
  private static final long HOUR = 60 * MIN;
  private static final long START = 1_772_967_600_000L;
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped());

  private final TestProgress progress = new TestProgress(PLAN);

  TestProgressTest() {
    progress.start(START);
  }

  private static Operation operation(What what, long atMs, long receivedMs, String text) {
    return new Operation("larkspur-2", atMs, receivedMs, what, text, "");
  }

  private boolean done(What what, long atMs, String text) {
    return progress.accept(operation(what, atMs, atMs, text));
  }

  /** So many closure steps, ten minutes apart from a time on. */
  private void closed(int steps, long fromMs) {
    for (int i = 0; i < steps; i++) {
      done(What.CLOSURE_STEP, fromMs + i * 10L * MIN, "part-turn");
    }
  }

  private void decided(Decision.Choice choice, long nowMs, long reviewMs) {
    progress.accept(
        new Decision("larkspur-2", nowMs, nowMs, choice, "deciders", "so", reviewMs), nowMs);
  }

  private FlowHistory flow() {
    return Objects.requireNonNull(progress.flow());
  }

  @Test
  void aSixthStepWithTheFifthsTimeShutsTheWellInForRulesAndPageAlike() {
    closed(5, START);
    done(What.CLOSURE_STEP, START + 40 * MIN, "the sixth, logged with the fifth's time");
    assertThat(progress.closureStepsDone()).isEqualTo(6);
    assertThat(progress.shutInMs()).isEqualTo(START + 40 * MIN);
    assertThat(flow().shutIn()).isTrue();
    assertThat(flow().steps()).as("the first rate, four steps and the last").hasSize(6);
    assertThat(progress.flowClock(progress.shutInMs()))
        .isCloseTo(flow().lastChangeHours(), within(1e-9));
  }

  @Test
  void aStepStampedBeforeTheOneLoggedBeforeItCountsInLogOrder() {
    closed(2, START + HOUR);
    done(What.CLOSURE_STEP, START + HOUR - 5 * MIN, "stamped too early");
    assertThat(progress.closureStepsDone()).isEqualTo(3);
    assertThat(flow().steps().get(flow().steps().size() - 1).rate()).isEqualTo(0.42);
  }

  @Test
  void allStepsDoneMeansWatchingWhetherOrNotSomebodyTypesIt() {
    assertThat(progress.phase()).isEqualTo("flowing");
    closed(1, START);
    assertThat(progress.phase()).isEqualTo("closing");
    assertThat(progress.lowFromMs()).as("low is what it should be").isEqualTo(Long.MAX_VALUE);
    closed(5, START + 10 * MIN);
    assertThat(progress.phase()).isEqualTo("watching");
    assertThat(progress.watching()).isTrue();
    assertThat(progress.lowFromMs()).as("once it has settled").isEqualTo(START + 56 * MIN);
    assertThat(progress.hoursShutIn(START + 50 * MIN + 2 * HOUR)).isEqualTo(2);
  }

  @Test
  void holdPointsAndPassesCountFromTheShutInAlsoWhenThePhaseIsTypedLater() {
    closed(6, START);
    done(What.PHASE, START + 3 * HOUR, "watching");
    assertThat(progress.holdPointMs()).isEqualTo(START + 50 * MIN + 6 * HOUR);
    assertThat(progress.passes("larkspur-2", START + 50 * MIN + 7 * HOUR).get(0).overdueS())
        .isEqualTo(3600);
  }

  @Test
  void withoutLoggedStepsTheyCountFromTheTypedPhase() {
    done(What.PHASE, START + HOUR, "watching");
    done(What.PHASE, START + 2 * HOUR, "watching");
    assertThat(progress.holdPointMs()).as("typed twice").isEqualTo(START + 7 * HOUR);
    assertThat(progress.lowFromMs()).isEqualTo(START + HOUR);
    assertThat(progress.shutInMs()).isEqualTo(Long.MIN_VALUE);
  }

  @Test
  void aTypedPhaseIsMatchedAsItWasMeantOrRefusedVisibly() {
    done(What.PHASE, START, " Clo-sing");
    assertThat(progress.phase()).isEqualTo("closing");
    done(What.PHASE, START, "wathcing");
    assertThat(progress.phase()).isEqualTo("watching");
    assertThat(progress.refusedPhase()).isEmpty();
    done(What.PHASE, START, "clowing");
    assertThat(progress.phase()).as("as near to flowing as to closing").isEqualTo("watching");
    assertThat(progress.refusedPhase())
        .isEqualTo(
            "The phase 'clowing' is none of the plan's (flowing, closing, watching); it stays watching");
    done(What.PHASE, START, "flowing");
    assertThat(progress.phase()).isEqualTo("flowing");
    assertThat(progress.refusedPhase()).isEmpty();
  }

  @Test
  void aTypedPhaseCannotTalkAShutInWellOpen() {
    closed(6, START);
    done(What.PHASE, START + HOUR, "closing");
    assertThat(progress.phase()).isEqualTo("watching");
    assertThat(progress.refusedPhase()).contains("'closing'", "shut in by the steps logged");
  }

  /** Low is what it should be while the well is open, which the log must say. */
  @Test
  void theWellIsOpenByTheLogAloneUntilItIsShutInAndAfterItIsOpenedAgain() {
    assertThat(progress.open()).as("nobody has logged what it does").isFalse();
    done(What.PHASE, START, "flowing");
    assertThat(progress.open()).isTrue();
    closed(5, START);
    assertThat(progress.open()).as("one step is left").isTrue();
    closed(1, START + HOUR);
    assertThat(progress.open()).isFalse();
    progress.accept(
        new Decision(
            "larkspur-2", START, START, Decision.Choice.REOPEN, "the deciders", "weather", 0, ""),
        START + 2 * HOUR);
    assertThat(progress.open()).as("decided, and still shut").isFalse();
    done(What.OPENING_STEP, START + 2 * HOUR, "choke opened");
    assertThat(progress.open()).isTrue();
  }

  /** A watch that waits for a log entry would hide a leak. */
  @Test
  void lowCountsFromTheStartUntilSomebodyLogsWhatTheWellDoes() {
    assertThat(progress.lowFromMs()).isEqualTo(Long.MIN_VALUE);
    done(What.VESSEL, START, "a vessel");
    assertThat(progress.lowFromMs()).as("says nothing of the well").isEqualTo(Long.MIN_VALUE);
    done(What.PHASE, START, "flowing");
    assertThat(progress.lowFromMs()).as("it flows, by the log").isEqualTo(Long.MAX_VALUE);
    done(What.PHASE, START + HOUR, "watching");
    assertThat(progress.lowFromMs()).isEqualTo(START + HOUR);
  }

  @Test
  void aStepLoggedAfterWatchingWasTypedDoesNotUndoIt() {
    done(What.PHASE, START, "watching");
    closed(1, START + MIN);
    assertThat(progress.phase()).isEqualTo("watching");
    assertThat(progress.lowFromMs()).isEqualTo(START + 7 * MIN);
  }

  @Test
  void anOpeningStepOrTheDecisionReopensAndClosingAgainBeginsAnew() {
    closed(6, START);
    decided(Decision.Choice.REOPEN, START + 2 * HOUR, 0);
    assertThat(progress.reopening()).isTrue();
    assertThat(progress.phase()).isEqualTo("reopening");
    assertThat(progress.shutInMs()).as("not opened yet").isEqualTo(START + 50 * MIN);
    done(What.OPENING_STEP, START + 3 * HOUR, "part-turn");
    decided(Decision.Choice.CONTINUE, START + 4 * HOUR, 0);
    assertThat(progress.reopening()).as("an open well is not talked shut").isTrue();
    assertThat(progress.shutInMs()).isEqualTo(Long.MIN_VALUE);
    assertThat(progress.flow()).isNull();
    closed(1, START + 5 * HOUR);
    assertThat(progress.phase()).isEqualTo("closing");
    assertThat(progress.reopening()).isFalse();
    closed(5, START + 6 * HOUR);
    assertThat(progress.shutInMs()).isEqualTo(START + 6 * HOUR + 40 * MIN);
    assertThat(flow().steps()).as("the first closing, the opening, the second").hasSize(14);
  }

  @Test
  void aDecisionToReopenIsTakenBackByOneToContinue() {
    closed(6, START);
    decided(Decision.Choice.REOPEN, START + 2 * HOUR, 0);
    decided(Decision.Choice.CONTINUE, START + 3 * HOUR, 0);
    assertThat(progress.watching()).isTrue();
    assertThat(progress.holdPointMs()).isEqualTo(START + 9 * HOUR);
  }

  @Test
  void theEndIsDecidedAndThenNothingIsDue() {
    closed(6, START);
    decided(Decision.Choice.END, START + 2 * HOUR, 0);
    assertThat(progress.ended()).isTrue();
    assertThat(progress.phase()).isEqualTo("ended");
    assertThat(progress.holdPointMs()).isEqualTo(Long.MAX_VALUE);
    assertThat(progress.testEndMs()).isEqualTo(Long.MAX_VALUE);
    assertThat(progress.passes("larkspur-2", START + 90 * HOUR).get(0).overdueS()).isNegative();
  }

  @Test
  void theTestEndsAfterItsLengthUnlessTheDecidersAskedPutItOff() {
    closed(6, START);
    long end = START + 50 * MIN + 48 * HOUR;
    assertThat(progress.testEndMs()).isEqualTo(end);
    decided(Decision.Choice.CONTINUE, end - 4 * HOUR, end + 2 * HOUR);
    assertThat(progress.testEndMs()).as("a hold point on the way").isEqualTo(end);
    decided(Decision.Choice.CONTINUE, end - HOUR / 2, end - HOUR / 4);
    assertThat(progress.testEndMs()).as("a review before the end").isEqualTo(end);
    decided(Decision.Choice.CONTINUE, end - HOUR / 4, end + 5 * HOUR);
    assertThat(progress.testEndMs()).isEqualTo(end + 5 * HOUR);
    decided(Decision.Choice.CONTINUE, end + 6 * HOUR, 0);
    assertThat(progress.testEndMs()).isEqualTo(end + 12 * HOUR);
  }

  @Test
  void anExtensionMovesTheEndByOneHoldPointAndNoLess() {
    closed(6, START);
    long end = START + 50 * MIN + 48 * HOUR;
    decided(Decision.Choice.EXTEND, end - HOUR, 0);
    assertThat(progress.testEndMs()).isEqualTo(end + 6 * HOUR);
    assertThat(progress.holdPointMs()).isEqualTo(end + 5 * HOUR);
    decided(Decision.Choice.EXTEND, end + 20 * HOUR, 0);
    assertThat(progress.testEndMs()).as("decided late").isEqualTo(end + 26 * HOUR);
  }

  @Test
  void anotherCycleBeginsTheTestAnewWithTheNextClosing() {
    closed(6, START);
    decided(Decision.Choice.CYCLE, START + 48 * HOUR, 0);
    assertThat(progress.phase()).isEqualTo("reopening");
    assertThat(progress.testEndMs()).isEqualTo(Long.MAX_VALUE);

    closed(1, START + 50 * HOUR); // nobody logged the opening
    assertThat(progress.phase()).isEqualTo("closing");
    assertThat(progress.closureStepsDone()).isEqualTo(1);
    assertThat(progress.testEndMs()).as("not before the next shut-in").isEqualTo(Long.MAX_VALUE);
    closed(5, START + 51 * HOUR);
    assertThat(progress.phase()).isEqualTo("watching");
    assertThat(progress.testEndMs()).isEqualTo(START + 51 * HOUR + 40 * MIN + 48 * HOUR);
    assertThat(progress.cycles().all())
        .extracting(c -> c.number() + " " + c.shutInMs().orElse(0L))
        .containsExactly("1 " + (START + 50 * MIN), "2 " + (START + 51 * HOUR + 40 * MIN));
  }

  @Test
  void aGoOrNoGoChangesNothingOfATestThatRuns() {
    closed(6, START);
    decided(Decision.Choice.REOPEN, START + 2 * HOUR, 0);
    decided(Decision.Choice.GO, START + 3 * HOUR, 0);
    assertThat(progress.phase()).isEqualTo("reopening");
  }

  @Test
  void aStepThatByItsNameLeavesNothingShutsTheWellIn() {
    done(What.CLOSURE_STEP, START, "choke part-turn 1 of 6");
    done(What.CLOSURE_STEP, START + HOUR, "choke part-turn 6 of 6, shut");
    assertThat(progress.shutInMs()).isEqualTo(START + HOUR);
    assertThat(progress.watching()).isTrue();
  }

  @Test
  void stampsFarAheadOrFarBackCountByReceptionAndMaskNothing() {
    long now = START + 10 * HOUR;
    assertThat(progress.effectiveMs(operation(What.VALVE, now + 2 * MIN, now, "")))
        .isEqualTo(now + 2 * MIN);
    assertThat(progress.accept(operation(What.VALVE, now + 2 * MIN + 1, now, "ahead"))).isFalse();
    assertThat(progress.accept(operation(What.VALVE, now - 6 * HOUR - 1, now, "back"))).isFalse();
    assertThat(progress.lastMove()).isNull();
    assertThat(progress.accept(operation(What.VALVE, now - 6 * HOUR, now, "late"))).isTrue();
    assertThat(progress.lastMoves())
        .extracting(m -> m.text() + " " + (m.atMs() - now) / HOUR + " " + m.believed())
        .containsExactly("late -6 true", "ahead 0 false", "back 0 false");
    assertThat(Objects.requireNonNull(progress.lastMove()).words()).isEqualTo("valve: late");
  }

  @Test
  void theLastTwentyMovesAreKeptNewestLast() {
    for (int i = 0; i < 30; i++) {
      done(What.LINE_UP, START + i * MIN, "move " + i);
    }
    done(What.VESSEL, START + HOUR, "no move");
    assertThat(progress.lastMoves()).hasSize(20);
    assertThat(progress.lastMoves().get(0).text()).isEqualTo("move 10");
    assertThat(progress.lastMoves().get(19).text()).isEqualTo("move 29");
  }

  @Test
  void presenceLastsUntilItsEndOrTheLongestStayAndIsThenAskedAbout() {
    done(What.VESSEL, START, "supply boat");
    done(What.ROV, START + HOUR, "vehicle down");
    done(What.VESSEL, START + 2 * HOUR, "supply boat, still there");
    assertThat(progress.presence(START + 13 * HOUR))
        .extracting(p -> p.what() + " " + p.text() + " " + (p.fromMs() - START) / HOUR)
        .containsExactly("VESSEL supply boat, still there 0");
    done(What.VESSEL_LEFT, START + 13 * HOUR, "");
    assertThat(progress.presence(START + 13 * HOUR)).isEmpty();
    assertThat(progress.presentMs(START + 20 * HOUR)).isEqualTo(START + 13 * HOUR);
    assertThat(progress.indicator(START + 14 * HOUR).near())
        .extracting(p -> p.what() + " " + p.unendedS())
        .containsExactly("vessel -Infinity", "rov 3600.0");
  }

  @Test
  void aPassStampedAheadDoesNotPutOffTheNext() {
    closed(6, START);
    long now = START + HOUR;
    progress.accept(
        new Observation(
            "larkspur-2", now + 99 * HOUR, now, "camera", Observation.Result.CLEAR, "", ""));
    assertThat(progress.passes("larkspur-2", now + 7 * HOUR).get(0).overdueS()).isEqualTo(3600);
  }

  @Test
  void whetherPeopleLeaveMovesNeitherPhaseNorHoldPoint() {
    closed(6, START);
    long holdPointMs = progress.holdPointMs();
    decided(Decision.Choice.LEAVE, START + 2 * HOUR, 0);
    assertThat(progress.holdPointMs()).isEqualTo(holdPointMs);
    decided(Decision.Choice.END, START + 3 * HOUR, 0);
    decided(Decision.Choice.STAY, START + 4 * HOUR, 0);
    assertThat(progress.ended()).isTrue();
  }
}

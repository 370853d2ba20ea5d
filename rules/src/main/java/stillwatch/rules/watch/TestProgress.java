package stillwatch.rules.watch;

import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.rules.closing.Cycles;
import stillwatch.rules.indicator.PassIndicator;
import stillwatch.rules.indicator.TestIndicator;
import stillwatch.rules.leaving.Leaving;
import stillwatch.rules.leaving.LeavingWords;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.TestPlan;
import stillwatch.rules.survey.Surveys;
import stillwatch.rules.well.FlowHistory;
import stillwatch.rules.well.WellFacts;

/**
 * How far the test has come, as the log tells it to the rules, the page and the report alike: its
 * phase, the steps of the closing and what they leave of the flow, the last operation on the well,
 * what is near it, the next hold point, who has looked, when the test is over.
 *
 * <p>Hold points, passes and the test's length count from the shut-in; before one is logged, from
 * the start of the plan's last phase, and in a plan of one phase from the start of the log. Not
 * thread-safe.
 */
public final class TestProgress {
  /** The phase while the well is being opened again. */
  public static final String REOPENING = "reopening";

  /** The phase after the deciders ended the test. */
  public static final String ENDED = "ended";

  /** What is logged later than this after it was is taken at its reception. */
  private static final long PAST_MS = 6 * 3_600_000;

  /** So long the transient of a closure step lasts (common practice, no source). */
  private static final long SETTLES_MS = 6 * 60_000L;

  private final Plan plan;
  private final TestPlan test;
  private final Phases phases;
  private final ClosureSteps closure;
  private final OpeningSteps opening;
  private final Presences presences;
  private final Moves moves = new Moves();
  private final Passes passes;
  private final Schedule schedule;
  private final Cycles cycles;
  private final Surveys surveys;
  private final Collecting collecting;
  private final Leaving leaving = new Leaving();
  private String phase;
  private String refusedPhase = "";
  private boolean logged;
  private boolean opened;
  private boolean reopenDecided;
  private boolean cycleDecided;
  private boolean ended;

  /** The start of a test that goes as planned. */
  public TestProgress(Plan plan) {
    this.plan = plan;
    test = plan.test();
    phases = new Phases(test.phases());
    phase = phases.first();
    WellFacts facts = plan.facts();
    WellFacts.Flow flow = facts == null ? null : facts.flow();
    closure = new ClosureSteps(test.closureSteps(), flow == null ? Double.NaN : flow.hours());
    opening = new OpeningSteps(plan.opening());
    schedule = new Schedule(test);
    passes = new Passes(test.passes());
    cycles = new Cycles(plan);
    surveys = new Surveys(cycles);
    collecting = new Collecting(plan);
    presences = new Presences(plan.surroundings().longestStay().toMillis());
  }

  /** The log begins, at this reception time. */
  public void start(long nowMs) {
    if (phases.single()) {
      watching(nowMs);
    }
  }

  private void watching(long atMs) {
    phase = phases.last();
    schedule.begin(atMs);
  }

  /**
   * When an operation was: by its stamp, or by its reception where it is stamped further ahead of
   * that than the plan believes or more than six hours back; ms since 1970 UTC.
   */
  public long effectiveMs(Operation operation) {
    return believed(operation) ? operation.atMs() : operation.receivedMs();
  }

  private boolean believed(Operation operation) {
    long late = operation.receivedMs() - operation.atMs();
    return late >= -plan.time().ahead().toMillis() && late <= PAST_MS;
  }

  /**
   * Takes an operation; says whether it touched the well at a time that can be believed, so that
   * courses begin again.
   */
  public boolean accept(Operation operation) {
    long atMs = effectiveMs(operation);
    presences.accept(operation, atMs);
    logged |= operation.what() == Operation.What.PHASE || Effects.changesFlow(operation.what());
    switch (operation.what()) {
      case CLOSURE_STEP -> close(operation, atMs);
      case OPENING_STEP -> open(operation, atMs);
      case PHASE -> enter(operation.text(), atMs);
      default -> {
        // moves neither the closing nor the phase
      }
    }
    if (operation.what().movesWell()) {
      moves.accept(move(operation));
      return believed(operation);
    }
    return false;
  }

  /** An operation as something that may have moved the well. */
  Move move(Operation operation) {
    return new Move(
        effectiveMs(operation), operation.what(), operation.text(), believed(operation));
  }

  private void close(Operation operation, long atMs) {
    if (cycleDecided && closure.done() > 0) {
      closure.open(atMs, 1); // nobody logged the opening
      schedule.stop();
    }
    boolean before = closure.shutIn();
    boolean reopening = reopening();
    opening.close();
    closure.close(atMs, operation.text());
    cycles.closed(operation.text(), atMs, operation.receivedMs());
    if (closure.shutIn()) {
      cycles.shutIn(closure.shutInMs());
    }
    opened = false;
    reopenDecided = false;
    cycleDecided = false;
    if (ended) {
      return;
    }
    if (closure.shutIn() && !before) {
      watching(closure.shutInMs());
    } else if (!closure.shutIn() && (reopening || phases.before(phase, phases.closing()))) {
      phase = phases.closing();
    }
  }

  private void open(Operation operation, long atMs) {
    double share = opening.open(operation.text(), atMs, closure.shutIn(), believed(operation));
    closure.open(atMs, share);
    cycles.opened(operation.text(), atMs, operation.receivedMs(), share);
    collecting.flow().opened(cycles);
    opened = true;
    schedule.stop();
  }

  private void enter(String typed, long atMs) {
    if (test.phases().isEmpty()) {
      phase = typed;
      return;
    }
    Optional<String> meant = phases.meant(typed);
    if (meant.isEmpty()) {
      refuse(typed, "is none of the plan's (" + phases + ")");
      return;
    }
    boolean last = meant.get().equals(phases.last());
    if (closure.shutIn() && !last) {
      refuse(typed, "was logged, but the well is shut in by the steps logged");
      return;
    }
    refusedPhase = "";
    if (last || meant.get().equals(phases.closing())) {
      opened = false;
      reopenDecided = false;
    }
    if (last && (!phase.equals(phases.last()) || !schedule.running())) {
      watching(atMs);
    }
    phase = meant.get();
    ended = false;
  }

  private void refuse(String typed, String why) {
    refusedPhase = "The phase '" + typed + "' " + why + "; it stays " + phase();
  }

  /** Takes readings. */
  public void accept(Frame frame) {
    cycles.accept(frame);
  }

  /** Takes an observation. */
  public void accept(Observation observation) {
    if (!collecting.accept(observation)) {
      passes.accept(observation);
    }
  }

  /** Takes a decision at this log time. */
  public void accept(Decision decision, long nowMs) {
    cycles.accept(decision);
    if (!decision.choice().ofTheTest()) {
      return;
    }
    ended = decision.choice() == Decision.Choice.END;
    cycleDecided = decision.choice() == Decision.Choice.CYCLE;
    reopenDecided = cycleDecided || decision.choice() == Decision.Choice.REOPEN;
    schedule.accept(decision, nowMs);
  }

  /** The phase the test is in, in the plan's words; or {@link #REOPENING} or {@link #ENDED}. */
  public String phase() {
    return ended ? ENDED : reopening() ? REOPENING : phase;
  }

  /** The phase that was last typed and not taken, in a sentence that says why; empty when none. */
  public String refusedPhase() {
    return refusedPhase;
  }

  /** Whether the well is being watched shut in: the plan's last phase. */
  public boolean watching() {
    return !ended && !reopening() && phase.equals(phases.last());
  }

  /** Whether the well is being opened again: a step of it is logged, or the decision. */
  public boolean reopening() {
    return opened || reopenDecided;
  }

  /** The steps of the opening that is under way. */
  OpeningSteps opening() {
    return opening;
  }

  /**
   * Whether what the well lost is judged as that of a well being opened: from its first step on,
   * and where the plan lists no steps from the decision on.
   */
  boolean falls() {
    return opened || (reopenDecided && !opening.listed());
  }

  /**
   * Whether the well is open, by the log: it flows, its closing is not done, or it was opened
   * again. A low pressure is then what it should be.
   */
  public boolean open() {
    return opened || (logged && !closure.shutIn() && !phase.equals(phases.last()));
  }

  /** Whether the deciders ended the test. */
  public boolean ended() {
    return ended;
  }

  /** How many of the plan's closure steps are done since the well was last open. */
  public int closureStepsDone() {
    return closure.done();
  }

  /**
   * When the last planned closure step was, source's time; {@link Long#MIN_VALUE} while the well is
   * not shut in.
   */
  public long shutInMs() {
    return closure.shutInMs();
  }

  /** Hours of the sources' time since the shut-in; NaN while the well is not shut in. */
  public double hoursShutIn(long atMs) {
    return closure.hours(atMs);
  }

  /**
   * From when a low pressure counts, source's time: from when the last step has settled, else from
   * the start of the last phase; {@link Long#MAX_VALUE} while it does not count. As long as nobody
   * has logged what the well does it counts from the start, {@link Long#MIN_VALUE}: a watch that
   * waits for a log entry would hide a leak.
   */
  public long lowFromMs() {
    if (!watching()) {
      return logged ? Long.MAX_VALUE : Long.MIN_VALUE;
    }
    return closure.lastMs() == Long.MIN_VALUE ? schedule.fromMs() : closure.lastMs() + SETTLES_MS;
  }

  /** The cycles of the test; whoever asks changes nothing. */
  public Cycles cycles() {
    return cycles;
  }

  /** What the steps leave of the flow; null while the well is open or little is known of it. */
  @Nullable FlowHistory flow() {
    return closure.history();
  }

  /** A time of the sources on the clock of {@link #flow}, hours. */
  double flowClock(long atMs) {
    return closure.clock(atMs);
  }

  /** The last operations that may have moved the well, newest last, twenty at most. */
  public List<Move> lastMoves() {
    return moves.all();
  }

  /** The newest move whose stamp can be believed; null when there is none. */
  @Nullable Move lastMove() {
    return moves.last();
  }

  /** What is near the well now, in the order of its sorts. */
  public List<Presence> presence(long nowMs) {
    return presences.lately(nowMs, 0);
  }

  /** What is near the well, or was so lately: it left no longer ago than this, ms. */
  List<Presence> presentLately(long nowMs, long withinMs) {
    return presences.lately(nowMs, withinMs);
  }

  /** When something was last near the well, up to now; {@link Long#MIN_VALUE} when never. */
  long presentMs(long nowMs) {
    return presences.lastMs(nowMs);
  }

  /** When the next hold point is, log time; {@link Long#MAX_VALUE} when none is set. */
  public long holdPointMs() {
    return schedule.holdPointMs();
  }

  /** Seconds until then; infinite when none is set. */
  double holdPointS(long nowMs) {
    return until(schedule.holdPointMs(), nowMs);
  }

  /**
   * When the test is over: after the plan's length, or at the review to which the deciders, asked
   * about the end, put it off; {@link Long#MAX_VALUE} while it does not run.
   */
  public long testEndMs() {
    return ended || reopening() ? Long.MAX_VALUE : schedule.endMs();
  }

  private static double until(long ms, long nowMs) {
    return ms == Long.MAX_VALUE ? Double.POSITIVE_INFINITY : (ms - nowMs) / 1000.0;
  }

  /** All of it for the rules. */
  TestIndicator indicator(long nowMs) {
    return new TestIndicator(
        phase(),
        refusedPhase,
        watching(),
        reopening(),
        ended,
        testEndMs(),
        until(testEndMs(), nowMs),
        test.length().toMillis() / 1000.0,
        presences.indicators(nowMs),
        leaving.ashore().map(a -> (nowMs - Leaving.saidMs(a)) / 1000.0).orElse(0.0),
        leaving.ashore().map(LeavingWords::of).orElse(""));
  }

  /** Who watches from shore and what weather is forecast; what people enter goes in here too. */
  public Leaving leaving() {
    return leaving;
  }

  /** What passes over the seabed saw; what people enter goes in here too. */
  public Surveys surveys() {
    return surveys;
  }

  /** Which units collect; whoever asks changes nothing. */
  public Collecting collecting() {
    return collecting;
  }

  /** Who has looked by which means, and how overdue each planned pass is. */
  public List<PassIndicator> passes(String well, long nowMs) {
    return passes.all(well, ended ? Long.MIN_VALUE : schedule.fromMs(), nowMs);
  }
}

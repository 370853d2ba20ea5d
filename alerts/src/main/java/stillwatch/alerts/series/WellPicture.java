package stillwatch.alerts.series;

import java.time.Clock;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;
import stillwatch.rules.closing.Cycle;
import stillwatch.rules.closing.Opening;
import stillwatch.rules.closing.StepsReading;
import stillwatch.rules.closing.StepsSeen;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.indicator.PassIndicator;
import stillwatch.rules.leaving.Absence;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.ready.Readiness;
import stillwatch.rules.ready.Standing;
import stillwatch.rules.survey.Survey;
import stillwatch.rules.watch.Collecting;
import stillwatch.rules.watch.Move;
import stillwatch.rules.watch.Presence;
import stillwatch.rules.watch.TestProgress;

/** One well as its log tells it up to now. Safe from any thread. */
public final class WellPicture {
  private static final int OPERATIONS_KEPT = 500;

  private static final long DAY_MS = 86_400_000;
  private static final long PATIENCE_MS = 60_000;

  private final Clock clock;
  private final boolean drill;
  private final GaugeTrails trails;
  private final Map<String, LastWord> words = new HashMap<>();
  private final Map<String, Long> patienceMs = new HashMap<>();
  private final long aheadMs;
  private final Deque<Operation> operations = new ArrayDeque<>();
  private final Deque<Decision> decisions = new ArrayDeque<>();
  private final Deque<Explanation> explanations = new ArrayDeque<>();
  private final Map<Attendance, Map<String, LastWord>> readings = new HashMap<>();
  private final TestProgress progress;
  private final Readiness readiness;
  private long logMs;
  private long entryHereMs;
  private long frameHereMs;

  /**
   * A picture of nothing yet.
   *
   * @param clock this machine's
   * @param drill whether the log's own time is not this machine's; ages are then counted from
   *     arrival here
   */
  public WellPicture(Plan plan, Clock clock, boolean drill) {
    this.clock = clock;
    this.drill = drill;
    aheadMs = plan.time().ahead().toMillis();
    progress = new TestProgress(plan);
    readiness = new Readiness(plan);
    trails = new GaugeTrails(plan.gauges());
    for (GaugePlan g : plan.gauges()) {
      patienceMs.put(g.id(), Math.max(PATIENCE_MS, 3 * g.period().toMillis()));
    }
  }

  /** How many bytes the trails of so many gauges take at most. */
  public static long trailBytes(int gauges) {
    return GaugeTrails.bytes(gauges);
  }

  /** Takes the next entry of the log. */
  public synchronized void accept(Telemetry entry) {
    if (logMs == 0) {
      progress.start(entry.receivedMs());
    }
    logMs = Math.max(logMs, entry.receivedMs());
    readiness.accept(entry);
    progress.leaving().accept(entry);
    // a machine whose clock was set back is behind the log, and silence must be counted from now on
    entryHereMs = drill ? clock.millis() : Math.min(logMs, clock.millis());
    if (entry instanceof Frame frame) {
      progress.accept(frame);
      if (frame.atMs() - frame.receivedMs() <= aheadMs) { // else its clock is ignored
        frameHereMs = entryHereMs;
        take(frame);
      }
    } else if (entry instanceof Operation operation) {
      boolean unused = progress.accept(operation);
      operations.addLast(operation);
      if (operations.size() > OPERATIONS_KEPT) {
        operations.removeFirst();
      }
    } else if (entry instanceof Observation observation) {
      progress.accept(observation);
    } else if (entry instanceof SurveyItem item) {
      progress.surveys().accept(item);
    } else if (entry instanceof Decision decision) {
      progress.accept(decision, logMs);
      decisions.addLast(decision);
    } else if (entry instanceof Explanation explanation) {
      explanations.addLast(explanation);
    } else if (entry instanceof Attendance attendance) {
      attended(attendance);
    }
  }

  /** Keeps what was read when people left or came back, not whenever somebody confirms. */
  private void attended(Attendance said) {
    if (progress.leaving().now().map(a -> a.left().equals(said)).orElse(true)) {
      readings.put(said, Map.copyOf(words));
    }
  }

  private void take(Frame frame) {
    boolean clockBroken = Math.abs(frame.atMs() - frame.receivedMs()) > 30 * DAY_MS;
    for (int i = 0; i < frame.values().length; i++) {
      double value = frame.values()[i];
      Quality quality = Quality.of(frame.qualities()[i]);
      if (Double.isNaN(value) && quality == Quality.GOOD) {
        continue;
      }
      String gauge = frame.gauges().ids().get(i);
      LastWord before = words.get(gauge);
      if (before == null || frame.atMs() >= before.atMs() || setBack(gauge, frame, before)) {
        words.put(gauge, new LastWord(value, quality, frame.atMs(), frame.receivedMs()));
      }
      if (quality != Quality.BAD && Double.isFinite(value) && !clockBroken) {
        trails.add(gauge, frame.atMs(), value);
      }
    }
  }

  /** Whether the gauge has sent only earlier stamps for a while: its clock was set back. */
  private boolean setBack(String gauge, Frame frame, LastWord before) {
    return frame.receivedMs() - before.receivedMs() > patienceMs.getOrDefault(gauge, PATIENCE_MS);
  }

  /** The phase the test is in. */
  public synchronized String phase() {
    return progress.phase();
  }

  /** The phase that was last typed and not taken, in a sentence that says why; empty when none. */
  public synchronized String refusedPhase() {
    return progress.refusedPhase();
  }

  /** The last operations that may have moved the well, newest last. */
  public synchronized List<Move> lastMoves() {
    return progress.lastMoves();
  }

  /** What is near the well now. */
  public synchronized List<Presence> presence() {
    return progress.presence(logMs);
  }

  /** When the test is over, log time; empty while it does not run. */
  public synchronized Optional<Long> testEndMs() {
    return progress.testEndMs() == Long.MAX_VALUE
        ? Optional.empty()
        : Optional.of(progress.testEndMs());
  }

  /** When the next hold point is, log time; empty when none is set. */
  public synchronized Optional<Long> holdPointMs() {
    return progress.holdPointMs() == Long.MAX_VALUE
        ? Optional.empty()
        : Optional.of(progress.holdPointMs());
  }

  /** When the last planned closure step was logged; empty before. */
  public synchronized Optional<Long> shutInMs() {
    return progress.shutInMs() == Long.MIN_VALUE
        ? Optional.empty()
        : Optional.of(progress.shutInMs());
  }

  /** Whether the well is open, by the log, so that a low pressure is what it should be. */
  public synchronized boolean open() {
    return progress.open();
  }

  /**
   * From when a low pressure counts, source's time; {@link Long#MAX_VALUE} while it does not,
   * {@link Long#MIN_VALUE} while nobody has logged what the well does.
   */
  public synchronized long lowFromMs() {
    return progress.lowFromMs();
  }

  /** Whether the deciders ended the test. */
  public synchronized boolean ended() {
    return progress.ended();
  }

  /** The cycles of the test, oldest first. */
  public synchronized List<Cycle> cycles() {
    return progress.cycles().all();
  }

  /** The openings of the well, oldest first. */
  public synchronized List<Opening> openings() {
    return progress.cycles().openings();
  }

  /**
   * What the closing steps of a cycle say of the rock, by gauge; the log goes on while it is worked
   * out.
   *
   * @param number of the cycle, from 1
   */
  public List<StepsReading> rock(int number) {
    return stepsSeen(number).stream().map(StepsSeen::read).toList();
  }

  private synchronized List<StepsSeen> stepsSeen(int number) {
    return progress.cycles().steps(number);
  }

  /** The units that collect or are lost, as far as somebody has logged them. */
  public synchronized List<Collecting.Unit> units() {
    return progress.collecting().units();
  }

  /** What collects now against what would flow; empty where the plan says nothing of it. */
  public synchronized String balance() {
    return progress.collecting().balance();
  }

  /** What the next cycle does otherwise; empty while no further cycle is decided. */
  public synchronized String nextCycleChanges() {
    return progress.cycles().nextChanges();
  }

  /** When the closing that the readiness is about began, ms; empty before its first step. */
  public synchronized Optional<Long> closingBegunMs() {
    return readiness.begun().map(Instant::toEpochMilli);
  }

  /** The last decision on go or no-go before that; empty while there is none. */
  public synchronized Optional<Decision> goDecided() {
    return readiness.decided();
  }

  /**
   * How the conditions of the plan's readiness stand, or stood when the closing began.
   *
   * @param findings all that the rules have said
   */
  public synchronized List<Standing> readiness(List<Finding> findings) {
    long atMs = closingBegunMs().orElse(Long.MAX_VALUE);
    return readiness.standings(findings.stream().filter(f -> f.lastedAt(atMs)).toList());
  }

  /** Ticks that name no condition of the plan, each as a sentence. */
  public synchronized List<String> strayTicks() {
    return readiness.strayTicks();
  }

  /** Who has looked by which means. */
  public synchronized List<PassIndicator> passes(String well) {
    return progress.passes(well, logMs);
  }

  /** What passes over the seabed saw, compared with before the closing. */
  public synchronized Survey survey() {
    return progress.surveys().compared();
  }

  /** What was decided, oldest first. */
  public synchronized List<Decision> decisions() {
    return List.copyOf(decisions);
  }

  /** How people explained changes, oldest first. */
  public synchronized List<Explanation> explanations() {
    return List.copyOf(explanations);
  }

  /** Who watched from shore, oldest first, with the absence that lasts. */
  public synchronized List<Absence> absences() {
    return progress.leaving().all();
  }

  /** The absence that lasts; empty while people are with the watch. */
  public synchronized Optional<Absence> absence() {
    return progress.leaving().now();
  }

  /** What the gauges had said last when somebody took the watch. */
  public synchronized Map<String, LastWord> readings(Attendance taken) {
    return readings.getOrDefault(taken, Map.of());
  }

  /** The weather that was forecast, oldest first; the last counts. */
  public synchronized List<WeatherForecast> forecasts() {
    return progress.leaving().forecasts();
  }

  /** The forecast that counts; empty while there is none. */
  public synchronized Optional<WeatherForecast> forecast() {
    return progress.leaving().forecast();
  }

  /** The last decision to leave, to stay or to reopen; empty while there is none. */
  public synchronized Optional<Decision> leavingDecided() {
    return progress.leaving().decided();
  }

  /** The reception time of the newest entry, ms since 1970 UTC; 0 when there is none. */
  public synchronized long logMs() {
    return logMs;
  }

  /**
   * How long ago the newest entry of any sort came, ms of this machine's time; very long when none
   * has.
   */
  public synchronized long entryAgeMs() {
    return clock.millis() - entryHereMs;
  }

  /** How long ago the last reading came, ms of this machine's time; empty when none have. */
  public synchronized Optional<Long> frameAgeMs() {
    return frameHereMs == 0
        ? Optional.empty()
        : Optional.of(Math.max(0, clock.millis() - frameHereMs));
  }

  /** The newest word of a gauge. */
  public synchronized Optional<LastWord> lastWord(String gauge) {
    return Optional.ofNullable(words.get(gauge));
  }

  /** What was done to the well, newest last, at most the last few hundred. */
  public synchronized List<Operation> operations() {
    return new ArrayList<>(operations);
  }

  /**
   * The extremes of these gauges over the last stretch of time.
   *
   * @param gauges ids of the plan
   * @param spanMs how far back from the newest reading; 0 for everything there is
   * @param atMost how many columns at most
   */
  public synchronized Columns columns(List<String> gauges, long spanMs, int atMost) {
    return trails.columns(gauges, spanMs, atMost, logMs);
  }
}

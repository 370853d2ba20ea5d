package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.account.Change;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.closing.Cycles;
import stillwatch.rules.engine.DeployedRule;
import stillwatch.rules.engine.Engines;
import stillwatch.rules.engine.Rule;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.engine.Verdict;
import stillwatch.rules.engine.WellEngine;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.Hashes;
import stillwatch.rules.indicator.GaugesIndicator;
import stillwatch.rules.indicator.WellIndicator;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.RuleSetting;

/**
 * The watch over one well: a pure function from its log to findings. The same entries in the same
 * order give the same findings with the same ids, whether they come live, from a recording or again
 * after a crash. Time effects only with the log. Not thread-safe: one thread owns it.
 */
public final class WellWatch implements AutoCloseable {
  /** How often indicators are said, in log time; and at once when a gauge jumps. */
  public static final long CADENCE_MS = 10_000;

  /** Frames whose stamps go back are judged too, one in so many. */
  private static final int BACK_FRAMES = 10;

  private final Plan plan;
  private final Consumer<Finding> sink;
  private final WellEngine engine;
  private final Gauges gauges = new Gauges();
  private final ReadingJudge readings;
  private final EvidenceBoard evidence = new EvidenceBoard();
  private final ChangeBoard changes;
  private final TestProgress progress;
  private final Effects effects;
  private final BuildUps buildUps;
  private final View view;
  private final FindingMaker findings;
  private final Tap tap;
  private long nowMs = Long.MIN_VALUE;
  private long lastSlot;
  private long lastAtSlot = Long.MIN_VALUE;
  private boolean saidInSlot;
  private int framesBack;

  /** Sees what is said just before the rules do; whoever looks takes what is of interest. */
  public interface Tap {
    /** What the gauges say. */
    default void said(GaugesIndicator indicator) {}

    /** What the well says, at the same moment. */
    default void said(WellIndicator indicator) {}

    /** What was just read from the build-up, every ten minutes of a shut-in. */
    default void reviewed(BuildUpReview reviewed) {}
  }

  /** Sees nothing. */
  public static final Tap NOBODY = new Tap() {};

  /**
   * A watch that has seen nothing yet.
   *
   * @param sink told each finding when raised and again when returned, on the calling thread
   */
  public WellWatch(Plan plan, RuleBook book, Consumer<Finding> sink) {
    this(plan, book, sink, NOBODY);
  }

  /** The same, with somebody who sees the indicators. */
  public WellWatch(Plan plan, RuleBook book, Consumer<Finding> sink, Tap tap) {
    this(plan, book, sink, tap, new Engines());
  }

  /** The same beside others that the calling thread watches, whose engine it may share. */
  public WellWatch(Plan plan, RuleBook book, Consumer<Finding> sink, Tap tap, Engines engines) {
    this.plan = plan;
    this.sink = sink;
    this.tap = tap;
    progress = new TestProgress(plan);
    effects = new Effects(plan.operations(), progress);
    buildUps = new BuildUps(plan, progress, tap);
    changes = new ChangeBoard(plan.well());
    readings = new ReadingJudge(gauges, plan.time().ahead().toMillis());
    view = new View(plan, gauges, progress, effects, buildUps, evidence, changes, readings);
    StringBuilder all = new StringBuilder();
    List<DeployedRule> deployed = new ArrayList<>();
    for (Rule rule : book.rules()) {
      RuleSetting setting = plan.setting(rule.entry().id());
      all.append(rule.entry()).append(rule.text());
      if (setting.off() == null) {
        RuleGates gates = new RuleGates(rule, setting);
        deployed.add(new DeployedRule(rule, gates.parameters, gates, v -> judge(gates, v)));
      }
    }
    engine = engines.of(deployed);
    findings = new FindingMaker(plan, Hashes.hex(12, all.toString()), gauges);
  }

  /** Takes the next entry of the well's log. */
  public void accept(Telemetry entry) {
    if (nowMs == Long.MIN_VALUE) {
      start(entry.receivedMs());
    }
    nowMs = Math.max(nowMs, entry.receivedMs());
    boolean atOnce = fold(entry);
    boolean due = due(entry);
    if (due || atOnce) {
      say(due);
    }
  }

  /** Takes an entry in; says whether the rules must hear of it at once. */
  private boolean fold(Telemetry entry) {
    if (entry instanceof Frame frame) {
      progress.accept(frame);
      return readings.take(frame, nowMs);
    }
    progress.leaving().accept(entry);
    if (entry instanceof Operation operation) {
      operated(operation);
    } else if (entry instanceof Observation observation) {
      progress.accept(observation);
      return true;
    } else if (entry instanceof SurveyItem item) {
      progress.surveys().accept(item);
      return true;
    } else if (entry instanceof Decision decision) {
      progress.accept(decision, nowMs);
      buildUps.readAnew();
      return true;
    } else if (entry instanceof Explanation explanation) {
      changes.explain(explanation, nowMs);
      return true;
    }
    return false;
  }

  private void operated(Operation operation) {
    boolean touched = progress.accept(operation);
    buildUps.stepped(gauges);
    if (operation.what().movesWell()) {
      effects.moved(operation, gauges);
    }
    if (touched && Effects.changesFlow(operation.what())) {
      changes.account().stepped();
      for (WatchedGauge gauge : gauges.all()) {
        gauge.touched(progress.effectiveMs(operation));
      }
    }
    WatchedGauge worked = gauges.get(operation.gauge());
    if (worked != null && operation.what() == Operation.What.GAUGE_CLOCK) {
      readings.clockSet(worked);
    } else if (worked != null && operation.what().gaugeWork()) {
      work(worked, operation);
    }
  }

  private void work(WatchedGauge gauge, Operation operation) {
    String what =
        operation.what().wire() + (operation.text().isEmpty() ? "" : ": " + operation.text());
    gauge.out =
        operation.what() == Operation.What.GAUGE_OUT
            || (gauge.out && operation.what() != Operation.What.GAUGE_IN);
    long atMs = progress.effectiveMs(operation);
    gauge.worked(what, atMs);
    for (WatchedPair pair : gauges.pairs()) {
      if (pair.a == gauge || pair.b == gauge) {
        pair.learnAnew();
      }
    }
    changes
        .account()
        .workedOn(gauge.plan.id(), what, atMs - Solos.WORK_MS, atMs + Solos.WORK_MS, nowMs);
  }

  /**
   * Whether the cadence asks for indicators: whenever the source's time enters a new slot, so that
   * a burst after an outage is judged step by step, and whenever log time does while the sources
   * say nothing.
   */
  private boolean due(Telemetry entry) {
    boolean due = false;
    long atSlot = Math.floorDiv(readings.lastAtMs(), CADENCE_MS);
    if (entry instanceof Frame && atSlot > lastAtSlot) {
      lastAtSlot = atSlot;
      saidInSlot = true;
      due = true;
    } else if (entry instanceof Frame && atSlot < lastAtSlot && ++framesBack >= BACK_FRAMES) {
      due = true;
    }
    long slot = Math.floorDiv(nowMs, CADENCE_MS);
    if (slot != lastSlot) {
      lastSlot = slot;
      due |= !saidInSlot;
      saidInSlot = due && entry instanceof Frame;
    }
    framesBack = due ? 0 : framesBack;
    return due;
  }

  private void start(long startMs) {
    gauges.start(plan, startMs);
    progress.start(startMs);
    readings.start(startMs);
    lastSlot = Math.floorDiv(startMs, CADENCE_MS);
  }

  private void say(boolean onCadence) {
    if (onCadence) {
      readings.settle(nowMs);
    }
    Moment moment = view.moment(nowMs);
    GaugesIndicator ofGauges = view.gauges(moment, onCadence);
    tap.said(ofGauges);
    engine.send(ofGauges);
    if (onCadence) {
      buildUps.look(gauges, moment);
      changes.look(gauges, effects, view.speaking(nowMs), nowMs);
    }
    WellIndicator ofWell = view.well(moment);
    tap.said(ofWell);
    engine.send(ofWell);
    if (changes.untold()) {
      engine.send(changes.rows(nowMs)); // the loss stays where the alarm of its fall has returned
    }
    if (onCadence) {
      for (WatchedTwins group : gauges.twins()) {
        OddOne.judge(group.members, group.pairs, nowMs);
      }
    }
  }

  private void judge(RuleGates rule, Verdict verdict) {
    Gate.Change change = rule.judge(verdict);
    Gate gate = rule.gate(verdict.subject());
    Finding before = gate.finding();
    switch (change) {
      case RAISED -> raise(rule, gate, verdict);
      case ESCALATED -> {
        if (before != null) {
          evidence.returned(before);
          sink.accept(findings.escalated(verdict, before, progress.phase()));
        }
        raise(rule, gate, verdict);
      }
      case RETURNED -> {
        hold(rule.entry, verdict.subject(), false);
        if (before != null) {
          evidence.returned(before);
          changes.returned(before, nowMs);
          Change of = before.change() == null ? null : changes.change(before.change());
          sink.accept(findings.returned(rule, verdict, before, of, progress.phase()));
        }
      }
      case NONE -> {
        // nothing to say
      }
    }
  }

  private void raise(RuleGates rule, Gate gate, Verdict verdict) {
    Finding finding =
        findings.raised(rule, verdict, gate.onsetMs(), gate.escalations(), progress.phase());
    String change = change(rule.entry, verdict, finding);
    finding =
        finding.of(
            change, changes.hypotheses(change, gauges, effects, view.speaking(nowMs), nowMs));
    gate.keep(finding);
    hold(rule.entry, verdict.subject(), true);
    evidence.raised(rule.entry, finding);
    sink.accept(finding);
  }

  /** The change that a finding speaks of: the one it is about, or the one it is entered as. */
  private @Nullable String change(RuleEntry rule, Verdict verdict, Finding finding) {
    if (changes.change(verdict.subject()) != null) {
      return verdict.subject();
    }
    List<WatchedGauge> felt = gauges.of(verdict.subject());
    boolean byOperation = verdict.texts().containsKey("operation") && rule.sense() == null;
    return byOperation
        ? changes.enterExplained(finding, felt, effects, nowMs)
        : changes.enter(
            rule,
            finding,
            felt.stream().filter(g -> g.alarms(nowMs) || felt.size() == 1).toList(),
            effects,
            nowMs,
            verdict.texts().containsKey("evidence") && felt.size() == 1
                ? felt.get(0).judged
                : null);
  }

  private void hold(RuleEntry rule, String subject, boolean against) {
    WatchedGauge gauge = gauges.get(subject);
    if (gauge != null && rule.excludes()) {
      if (against) {
        gauge.against.add(rule.id());
      } else {
        gauge.against.remove(rule.id());
      }
    }
  }

  /** The phase the test is in. */
  public String phase() {
    return progress.phase();
  }

  /** The cycles of the test; whoever asks changes nothing. */
  public Cycles cycles() {
    return progress.cycles();
  }

  /** The changes of the well that nothing and nobody has explained, oldest first. */
  public List<Change> openChanges() {
    return changes.account().open();
  }

  /** The reception time of the last entry taken, ms since 1970 UTC. */
  public long nowMs() {
    return nowMs;
  }

  @Override
  public void close() {
    engine.close();
  }
}

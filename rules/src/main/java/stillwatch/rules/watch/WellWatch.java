package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.function.Consumer;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.engine.Rule;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.engine.Verdict;
import stillwatch.rules.engine.WellEngine;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.Hashes;
import stillwatch.rules.indicator.EvidenceIndicator;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.GaugesIndicator;
import stillwatch.rules.indicator.PairIndicator;
import stillwatch.rules.indicator.TwinsIndicator;
import stillwatch.rules.indicator.WellIndicator;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.RuleSetting;
import stillwatch.rules.well.Estimate;

/**
 * The watch over one well: a pure function from its log to findings. The same entries in the same
 * order give the same findings with the same ids, whether they come live, from a recording or again
 * after a crash. Time moves only with the log. Not thread-safe: one thread owns it.
 */
public final class WellWatch implements AutoCloseable {
  /** How often indicators are said, in log time; and at once when a gauge jumps. */
  public static final long CADENCE_MS = 10_000;

  private static final Estimate NO_COOLING = new Estimate(0, 0);

  /** Frames whose stamps go back are judged too, one in so many. */
  private static final int BACK_FRAMES = 10;

  private final Plan plan;
  private final Consumer<Finding> sink;
  private final Tap tap;
  private final WellEngine engine = new WellEngine();
  private final IdentityHashMap<GaugeSet, WatchedGauge[]> columns = new IdentityHashMap<>();
  private final Gauges gauges = new Gauges();
  private final EvidenceBoard evidence = new EvidenceBoard();
  private final TestProgress progress;
  private final BuildUps buildUps;
  private GaugeSet lastSet = GaugeSet.of();
  private WatchedGauge[] lastKnown = new WatchedGauge[0];
  private final FindingMaker findings;
  private long nowMs = Long.MIN_VALUE;
  private long lastSlot;
  private long lastAtSlot = Long.MIN_VALUE;
  private boolean saidInSlot;
  private int framesBack;
  private long lastFrameMs;
  private double aheadS;

  /** Sees what is said just before the rules do; whoever looks takes what is of interest. */
  public interface Tap {
    /** What the gauges say. */
    default void said(GaugesIndicator indicator) {}

    /** What the well says, at the same moment. */
    default void said(WellIndicator indicator) {}

    /** What was just read from the build-up, every ten minutes of a shut-in. */
    default void reviewed(Reviewed reviewed) {}
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
    this.plan = plan;
    this.sink = sink;
    this.tap = tap;
    progress = new TestProgress(plan);
    buildUps = new BuildUps(plan, progress, tap);
    StringBuilder all = new StringBuilder();
    for (Rule rule : book.rules()) {
      RuleSetting setting = plan.setting(rule.entry().id());
      all.append(rule.entry()).append(rule.text());
      if (setting.off() == null) {
        RuleGates gates = new RuleGates(rule, setting);
        engine.deploy(rule, gates.parameters, verdict -> judge(gates, verdict));
      }
    }
    findings = new FindingMaker(plan, Hashes.hex(12, all.toString()), gauges);
  }

  /** Takes the next entry of the well's log. */
  public void accept(Telemetry entry) {
    if (nowMs == Long.MIN_VALUE) {
      start(entry.receivedMs());
    }
    nowMs = Math.max(nowMs, entry.receivedMs());
    boolean jumped = false;
    if (entry instanceof Frame frame) {
      lastFrameMs = nowMs;
      aheadS = (frame.atMs() - frame.receivedMs()) / 1000.0;
      jumped = take(frame);
    } else if (entry instanceof Operation operation) {
      boolean touched = progress.accept(operation);
      buildUps.stepped(gauges);
      if (touched) {
        for (WatchedGauge gauge : gauges.all()) {
          gauge.touched(operation.atMs());
        }
      }
    } else if (entry instanceof Observation observation) {
      progress.accept(observation);
      jumped = true; // somebody saw something: the rules hear of it at once
    } else if (entry instanceof Decision decision) {
      progress.accept(decision, nowMs);
      buildUps.readAnew();
      jumped = true;
    }
    boolean due = due(entry);
    if (due || jumped) {
      say(due);
    }
  }

  /**
   * Whether the cadence asks for indicators: whenever the source's time enters a new slot, so that
   * a burst after an outage is judged step by step, and whenever log time does while the sources
   * say nothing.
   */
  private boolean due(Telemetry entry) {
    boolean due = false;
    long atSlot = Math.floorDiv(entry.atMs(), CADENCE_MS);
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
    gauges.start(plan.gauges(), startMs);
    progress.start(startMs);
    lastFrameMs = startMs;
    lastSlot = Math.floorDiv(startMs, CADENCE_MS);
  }

  private boolean take(Frame frame) {
    WatchedGauge[] known = frame.gauges() == lastSet ? lastKnown : columns.get(frame.gauges());
    if (known == null) {
      known = frame.gauges().ids().stream().map(gauges::get).toArray(WatchedGauge[]::new);
      columns.put(frame.gauges(), known);
    }
    lastSet = frame.gauges();
    lastKnown = known;
    double[] values = frame.values();
    byte[] qualities = frame.qualities();
    boolean jumped = false;
    for (int i = 0; i < known.length; i++) {
      WatchedGauge gauge = known[i];
      if (gauge != null) {
        gauge.track.accept(frame.atMs(), frame.receivedMs(), values[i], qualities[i]);
        jumped |= gauge.track.jumped();
      }
    }
    return jumped;
  }

  private void say(boolean onCadence) {
    Moment moment = moment();
    List<GaugeIndicator> said = new ArrayList<>(gauges.all().size());
    for (WatchedGauge gauge : gauges.all()) {
      said.add(gauge.indicator(moment, gauges.groupOf(gauge).calmBeside(gauge)));
    }
    List<PairIndicator> pairs = new ArrayList<>();
    if (onCadence) {
      for (WatchedPair pair : gauges.pairs()) {
        if (pair.update(nowMs)) {
          pairs.add(pair.indicator(plan.well(), nowMs));
        }
      }
    }
    if (onCadence) {
      buildUps.look(gauges, moment);
    }
    GaugesIndicator ofGauges = new GaugesIndicator(plan.well(), nowMs, said, pairs);
    tap.said(ofGauges);
    engine.send(ofGauges);
    WellIndicator ofWell = well(moment);
    tap.said(ofWell);
    engine.send(ofWell);
    if (onCadence) {
      for (WatchedTwins group : gauges.twins()) {
        OddOne.judge(group.members, group.pairs, nowMs);
      }
    }
  }

  private Moment moment() {
    WatchedGauge sea = gauges.ambient(nowMs);
    Estimate cooling = buildUps.cooling(nowMs);
    Move done = progress.lastMove();
    return new Moment(
        plan.well(),
        nowMs,
        plan.bands().after(progress.hoursShutIn(nowMs)),
        sea == null ? Double.NaN : sea.track.level(),
        cooling == null ? NO_COOLING : cooling,
        (sea == null
                ? "No ambient gauge can be trusted: the tide is still in it, so this is uncertain."
                : "The tide is taken out by " + sea.plan.id() + ".")
            + (cooling == null
                ? " The facts say nothing of cooling: it is still in it."
                : " The cooling that the facts expect is taken out."),
        done == null ? Long.MIN_VALUE : done.atMs(),
        done == null ? "" : done.words(),
        progress.presentMs(nowMs),
        progress.holdPointS(nowMs));
  }

  private WellIndicator well(Moment moment) {
    List<TwinsIndicator> twins = new ArrayList<>();
    for (WatchedTwins group : gauges.twins()) {
      twins.add(group.indicator(moment));
    }
    long lateStreak = 0;
    double backS = 0;
    for (WatchedGauge gauge : gauges.all()) {
      if (gauge.track.lateStreak() > lateStreak) {
        lateStreak = gauge.track.lateStreak();
        backS = gauge.track.backMs() / 1000.0;
      }
    }
    List<EvidenceIndicator> speaking = evidence.now(nowMs);
    return new WellIndicator(
        plan.well(),
        nowMs,
        (nowMs - lastFrameMs) / 1000.0,
        lastFrameMs,
        lateStreak,
        backS,
        aheadS,
        moment.holdPointS(),
        progress.holdPointMs(),
        speaking,
        EvidenceBoard.order(speaking),
        twins,
        buildUps.newest(),
        progress.indicator(nowMs),
        progress.passes(plan.well(), nowMs));
  }

  private void judge(RuleGates rule, Verdict verdict) {
    Gate gate = rule.gate(verdict.subject());
    Gate.Change change = gate.judge(verdict);
    Finding before = gate.finding();
    switch (change) {
      case RAISED -> raise(rule, gate, verdict);
      case ESCALATED -> {
        if (before != null) {
          evidence.returned(before);
          sink.accept(findings.escalated(rule, verdict, before, progress.phase()));
        }
        raise(rule, gate, verdict);
      }
      case RETURNED -> {
        hold(rule.entry, verdict.subject(), false);
        if (before != null) {
          evidence.returned(before);
          sink.accept(findings.returned(rule, verdict, before, progress.phase()));
        }
      }
      case NONE -> {
        // nothing to say
      }
    }
  }

  private void raise(RuleGates rule, Gate gate, Verdict verdict) {
    Finding finding = findings.raised(rule, verdict, gate.onsetMs(), progress.phase());
    gate.keep(finding);
    hold(rule.entry, verdict.subject(), true);
    evidence.raised(rule.entry, finding);
    sink.accept(finding);
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

  /** The reception time of the last entry taken, ms since 1970 UTC. */
  public long nowMs() {
    return nowMs;
  }

  @Override
  public void close() {
    engine.close();
  }
}

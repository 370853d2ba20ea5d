package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.engine.Rule;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.engine.Verdict;
import stillwatch.rules.engine.WellEngine;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.Hashes;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.GaugesIndicator;
import stillwatch.rules.indicator.PairIndicator;
import stillwatch.rules.indicator.TwinsIndicator;
import stillwatch.rules.indicator.WellIndicator;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.RuleSetting;

/**
 * The watch over one well: a pure function from its log to findings. The same entries in the same
 * order give the same findings with the same ids, whether they come live, from a recording or again
 * after a crash. Time moves only with the log. Not thread-safe: one thread owns it.
 */
public final class WellWatch implements AutoCloseable {
  /** How often indicators are said, in log time; and at once when a gauge jumps. */
  public static final long CADENCE_MS = 10_000;

  private static final RuleSetting AS_CATALOGUED = new RuleSetting(Map.of(), null, null);

  private final Plan plan;
  private final Consumer<Finding> sink;
  private final WellEngine engine = new WellEngine();
  private final IdentityHashMap<GaugeSet, WatchedGauge[]> columns = new IdentityHashMap<>();
  private final Gauges gauges = new Gauges();
  private GaugeSet lastSet = GaugeSet.of();
  private WatchedGauge[] lastKnown = new WatchedGauge[0];
  private final FindingMaker findings;
  private String phase;
  private long nowMs = Long.MIN_VALUE;
  private long lastSlot;
  private long lastAtSlot = Long.MIN_VALUE;
  private boolean saidInSlot;
  private long lastFrameMs;
  private long lastOpeningMs = -1;

  /**
   * A watch that has seen nothing yet.
   *
   * @param sink told each finding when raised and again when returned, on the calling thread
   */
  public WellWatch(Plan plan, RuleBook book, Consumer<Finding> sink) {
    this.plan = plan;
    this.sink = sink;
    phase = plan.test().phases().isEmpty() ? "" : plan.test().phases().get(0);
    StringBuilder all = new StringBuilder();
    for (Rule rule : book.rules()) {
      RuleSetting setting = plan.rules().getOrDefault(rule.entry().id(), AS_CATALOGUED);
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
      jumped = take(frame);
    } else if (entry instanceof Operation operation) {
      take(operation);
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
    }
    long slot = Math.floorDiv(nowMs, CADENCE_MS);
    if (slot != lastSlot) {
      lastSlot = slot;
      due |= !saidInSlot;
      saidInSlot = due && entry instanceof Frame;
    }
    return due;
  }

  private void start(long startMs) {
    gauges.start(plan.gauges(), startMs);
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

  private void take(Operation operation) {
    switch (operation.what()) {
      case PHASE -> phase = operation.text();
      case OPENING_STEP, VALVE -> lastOpeningMs = nowMs;
      default -> {
        // told to people; no rule of the book asks for it yet
      }
    }
  }

  private void say(boolean onCadence) {
    List<GaugeIndicator> said = new ArrayList<>(gauges.all().size());
    for (WatchedGauge gauge : gauges.all()) {
      said.add(gauge.indicator(plan.well(), nowMs, plan.bands(), lastOpeningMs));
    }
    List<PairIndicator> pairs = new ArrayList<>();
    if (onCadence) {
      for (WatchedPair pair : gauges.pairs()) {
        if (pair.update(nowMs)) {
          pairs.add(pair.indicator(plan.well(), nowMs));
        }
      }
    }
    engine.send(new GaugesIndicator(plan.well(), nowMs, said, pairs));
    List<TwinsIndicator> twins = new ArrayList<>();
    for (WatchedTwins group : gauges.twins()) {
      twins.add(group.indicator(plan.well(), nowMs, plan.bands()));
    }
    engine.send(
        new WellIndicator(plan.well(), nowMs, (nowMs - lastFrameMs) / 1000.0, lastFrameMs, twins));
  }

  private void judge(RuleGates rule, Verdict verdict) {
    Gate gate = rule.gate(verdict.subject());
    boolean beyond = verdict.beyond();
    long onsetMs = verdict.onsetMs() >= 0 ? verdict.onsetMs() : verdict.timeMs();
    switch (gate.judge(verdict.timeMs(), beyond, verdict.normal(), onsetMs)) {
      case RAISED -> {
        Finding finding = findings.raised(rule, verdict, gate.onsetMs(), phase);
        gate.raised(finding);
        hold(rule.entry, verdict.subject(), true);
        sink.accept(finding);
      }
      case RETURNED -> {
        Finding raised = gate.raised();
        gate.returned();
        hold(rule.entry, verdict.subject(), false);
        if (raised != null) {
          sink.accept(findings.returned(rule, verdict, raised, phase));
        }
      }
      case NONE -> {
        // nothing to say
      }
    }
  }

  private void hold(RuleEntry rule, String subject, boolean against) {
    WatchedGauge gauge = gauges.get(subject);
    if (gauge != null && rule.about() == RuleEntry.About.GAUGE) {
      if (against) {
        gauge.against.add(rule.id());
      } else {
        gauge.against.remove(rule.id());
      }
    }
  }

  /** The phase the test is in. */
  public String phase() {
    return phase;
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

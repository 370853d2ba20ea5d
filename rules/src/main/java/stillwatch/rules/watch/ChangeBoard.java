package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.rules.account.Account;
import stillwatch.rules.account.Change;
import stillwatch.rules.account.Rise;
import stillwatch.rules.account.Witness;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.Hypothesis;
import stillwatch.rules.indicator.ChangeIndicator;
import stillwatch.rules.indicator.EvidenceIndicator;

/**
 * Enters what the rules raise into the account of changes, weighs the four hypotheses of each
 * change on the cadence, and tells the rules how it stands. Not thread-safe.
 */
final class ChangeBoard {
  /** A closed change is told to the rules for so long, so that they can say that it is over. */
  private static final long TOLD_MS = 60_000;

  /** A witness must have shown so long after the onset that it feels the well to contradict. */
  private static final long AFTER_MS = 10 * 60_000L;

  private final String well;
  private final Account account;
  private final Map<String, Priority> solo = new HashMap<>();
  private final Map<String, Judgement> judged = new HashMap<>();
  private final Map<String, Told> told = new HashMap<>();
  private boolean untold;
  private String refused = "";
  private long refusedMs = Long.MIN_VALUE / 2;

  /**
   * An alarm that stands and tells a change.
   *
   * @param size how much was lost when it was raised
   */
  private record Told(String change, Priority priority, double size) {}

  ChangeBoard(String well) {
    this.well = well;
    account = new Account(well);
  }

  Account account() {
    return account;
  }

  /**
   * Enters a finding of a rule that lets a sense speak.
   *
   * @param felt the gauges that felt it; empty for a sense without levels
   * @param alone what is to be thought of the gauge that alone sees it; null where more do
   * @return the id of its change; null where the rule speaks for no sense
   */
  @Nullable String enter(
      RuleEntry rule,
      Finding finding,
      List<WatchedGauge> felt,
      Effects effects,
      long nowMs,
      @Nullable Judgement alone) {
    String sense = rule.sense();
    if (sense == null) {
      return null;
    }
    String id = enter(sense, finding, felt, effects, nowMs, 0);
    Change entered = change(id);
    if (entered != null) {
      told.put(teller(finding), new Told(id, finding.priority(), entered.size()));
    }
    if (alone != null) {
      solo.merge(id, finding.priority(), (a, b) -> a.compareTo(b) >= 0 ? a : b);
      judged.put(id, alone);
    }
    return id;
  }

  /** Enters a fall that an operation explains, if the pressure comes back where it must. */
  String enterExplained(Finding finding, List<WatchedGauge> felt, Effects effects, long nowMs) {
    return enter(Account.PRESSURE, finding, felt, effects, nowMs, effects.backByMs(nowMs));
  }

  private String enter(
      String sense,
      Finding finding,
      List<WatchedGauge> felt,
      Effects effects,
      long nowMs,
      long backByMs) {
    List<Witness> witnesses = new ArrayList<>();
    if (sense.equals(Account.PRESSURE)) {
      for (WatchedGauge g : felt) {
        if (g.shutIn()) {
          witnesses.add(g.witness(true, before(g, finding.onsetMs()), nowMs));
        }
      }
    }
    return account.enter(
        new Account.Report(
            sense,
            finding.rule(),
            finding.id(),
            finding.onsetMs(),
            nowMs,
            witnesses,
            rise(felt, effects, finding.onsetMs()),
            effects.nearWords(finding.onsetMs()),
            backByMs));
  }

  /** How the first of the gauges that felt it was rising after the last step. */
  private static Rise rise(List<WatchedGauge> felt, Effects effects, long onsetMs) {
    Effects.Done step = effects.step();
    return step == null
        ? Rise.NONE
        : felt.stream()
            .filter(WatchedGauge::shutIn)
            .findFirst()
            .map(g -> g.rise(step.move().atMs(), onsetMs))
            .orElse(Rise.NONE);
  }

  /** The level before: the one that was held, or where the trail stood before the onset. */
  private static double before(WatchedGauge g, long onsetMs) {
    double held = g.track.fall().held();
    double trail = g.levelBefore(onsetMs);
    double lost = g.track.fall().lost();
    return lost > 0 && (Double.isNaN(trail) || held > trail) ? held : trail;
  }

  /** A finding is over. */
  void returned(Finding finding, long nowMs) {
    untold |= told.remove(teller(finding)) != null;
    account.back(finding.id(), nowMs);
  }

  /** A person explains a change; one that is not open or not there is said to be neither. */
  void explain(Explanation explanation, long nowMs) {
    if (!account.explain(explanation)) {
      refused =
          "%s explained change %s, and no change of that id is open: it never was one, or is closed"
              .formatted(explanation.by(), explanation.change());
      refusedMs = nowMs;
    }
  }

  /** Why the newest explanation was not taken; empty when it was, or a minute later. */
  String refused(long nowMs) {
    return nowMs - refusedMs < TOLD_MS ? refused : "";
  }

  /** Looks at every live change with the levels as they are now. */
  void look(Gauges gauges, Effects effects, List<EvidenceIndicator> speaking, long nowMs) {
    List<Change> kept = account.changes();
    if (kept.isEmpty()) {
      return;
    }
    account.look(nowMs, id -> gauges.witness(id, nowMs), gauges.witnesses(nowMs));
    for (Change c : account.changes()) {
      if (c.state() == Change.State.OPEN && c.sense().equals(Account.PRESSURE)) {
        weigh(c, gauges, effects, speaking, nowMs);
      }
    }
  }

  private void weigh(
      Change c, Gauges gauges, Effects effects, List<EvidenceIndicator> speaking, long nowMs) {
    String fault = gaugeFault(c, gauges, nowMs);
    if (!fault.isEmpty()) {
      account.gaugeAtFault(c.id(), fault, nowMs);
      return;
    }
    account.weigh(c.id(), hypotheses(c, gauges, effects, speaking, nowMs));
  }

  /** What speaks for and against each explanation of a change of the pressure; empty of others. */
  List<Hypothesis> hypotheses(
      @Nullable String id,
      Gauges gauges,
      Effects effects,
      List<EvidenceIndicator> speaking,
      long nowMs) {
    Change c = id == null ? null : change(id);
    return c == null || !c.sense().equals(Account.PRESSURE)
        ? List.of()
        : hypotheses(c, gauges, effects, speaking, nowMs);
  }

  private List<Hypothesis> hypotheses(
      Change c, Gauges gauges, Effects effects, List<EvidenceIndicator> speaking, long nowMs) {
    return ForAndAgainst.of(c, gauges, effects, speaking, judged.get(c.id()), nowMs);
  }

  /** Why the only gauge that feels a change is at fault; empty while that is not known. */
  private static String gaugeFault(Change c, Gauges gauges, long nowMs) {
    List<Witness> felt = c.witnesses().stream().filter(Witness::felt).toList();
    if (felt.size() != 1) {
      return "";
    }
    WatchedGauge g = gauges.get(felt.get(0).gauge());
    if (g != null && (!g.unit.isEmpty() || g.belowSea || g.track.outOfRange())) {
      return g.plan.id() + " reads an impossible value.";
    }
    List<Witness> others =
        c.witnesses().stream()
            .filter(
                w ->
                    !w.felt()
                        && w.alarms()
                        && w.provenMs() > c.onsetMs() + AFTER_MS
                        && gauges.agreed(felt.get(0).gauge(), w.gauge()))
            .toList();
    return others.isEmpty()
        ? ""
        : others.get(0).gauge()
            + " has shown since, at "
            + Words.when(others.get(0).provenMs(), nowMs)
            + ", a response to the well, and did not show this loss.";
  }

  /** When the oldest open change of the pressure that counts began; -1 when there is none. */
  long pressureSinceMs() {
    return account.open().stream()
        .filter(
            c -> c.sense().equals(Account.PRESSURE) && priority(c).compareTo(Priority.MEDIUM) >= 0)
        .mapToLong(Change::onsetMs)
        .min()
        .orElse(-1);
  }

  private Priority priority(Change c) {
    long felt = c.witnesses().stream().filter(Witness::felt).count();
    long able = c.witnesses().stream().filter(w -> !w.felt() && w.alarms()).count();
    return felt >= 2 || able == 0 ? Priority.HIGH : solo.getOrDefault(c.id(), Priority.HIGH);
  }

  private static String teller(Finding finding) {
    return finding.rule() + ' ' + finding.subject();
  }

  /** How much was lost when an alarm as urgent as the change told it; NaN when none stands. */
  private double told(Change c) {
    Priority priority = priority(c);
    return told.values().stream()
        .filter(t -> t.change().equals(c.id()) && t.priority().compareTo(priority) >= 0)
        .mapToDouble(Told::size)
        .max()
        .orElse(Double.NaN);
  }

  /** Whether an alarm that told a change has returned since the rules last heard of the changes. */
  boolean untold() {
    return untold;
  }

  /** What the rules hear of the changes. */
  List<ChangeIndicator> rows(long nowMs) {
    untold = false;
    List<ChangeIndicator> rows = new ArrayList<>();
    for (Change c : account.since(nowMs - TOLD_MS)) {
      if (c.sense().equals(Account.PRESSURE) && c.state() != Change.State.EXPECTED_BACK) {
        rows.add(
            new ChangeIndicator(
                well,
                c.id(),
                c.sense(),
                nowMs,
                nowMs,
                c.onsetMs(),
                c.open(),
                c.size(),
                told(c),
                c.peak(),
                c.before(),
                c.level(),
                Math.max(0, nowMs - c.onsetMs()) / 1000.0,
                String.join(",", ForAndAgainst.names(c, true)),
                priority(c).wire(),
                ForAndAgainst.seen(c, nowMs),
                ForAndAgainst.words(c),
                c.closedBy()));
      }
    }
    return rows;
  }

  /** The change that a subject names; null when it names none. */
  @Nullable Change change(String id) {
    for (Change c : account.changes()) {
      if (c.id().equals(id)) {
        return c;
      }
    }
    return null;
  }
}

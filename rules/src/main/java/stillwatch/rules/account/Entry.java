package stillwatch.rules.account;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import stillwatch.rules.finding.Hashes;
import stillwatch.rules.finding.Hypothesis;

/** One change while the account keeps it. Not thread-safe. */
final class Entry {
  /** So long the level must be back before the change counts as over. */
  private static final long STAYS_MS = 10 * 60_000L;

  private static final double GROWS = 1.02;

  /** A gauge feels a change when it shows this share of it (common practice, no source). */
  private static final double FELT = 0.3;

  final String id;
  final String sense;
  final String finding;
  final long onsetMs;
  long closedMs;
  List<Hypothesis> hypotheses = List.of();
  private final String rule;
  private final String nearby;
  private final Rise rise;
  private final Map<String, Double> before = new LinkedHashMap<>();
  private List<Witness> witnesses = List.of();
  private Change.State state;
  private String closedBy = "";
  private long backByMs;
  private double size;
  private double peak;
  private double levelBefore = Double.NaN;
  private double level = Double.NaN;
  private long grewMs;
  private double grewPeak;
  private long backSinceMs = Long.MAX_VALUE;
  private boolean measured = true;

  Entry(String well, Account.Report report) {
    id = Hashes.hex(12, well, report.sense(), Long.toString(report.onsetMs()));
    sense = report.sense();
    rule = report.rule();
    finding = report.finding();
    onsetMs = report.onsetMs();
    nearby = report.nearby();
    rise = report.backByMs() > 0 ? Rise.NONE : report.rise();
    grewMs = report.nowMs();
    backByMs = report.backByMs();
    for (Witness w : report.felt()) {
      before.put(w.gauge(), w.before());
    }
    state = report.backByMs() > 0 ? Change.State.EXPECTED_BACK : Change.State.OPEN;
    if (report.backByMs() == Long.MAX_VALUE) {
      close(Change.State.EXPLAINED, "Put down to the operation: " + nearby, report.nowMs());
    }
    measure(report.felt());
  }

  boolean open() {
    return state == Change.State.OPEN;
  }

  /** Open, or still to come back. */
  boolean live() {
    return open() || state == Change.State.EXPECTED_BACK;
  }

  boolean hasLevels() {
    return !before.isEmpty();
  }

  boolean feltOnlyBy(String gauge) {
    return before.size() == 1 && before.containsKey(gauge);
  }

  /** Whether a report is of this very change: it began, or goes on, at about the same time. */
  boolean continues(Account.Report report, long withinMs) {
    if (!hasLevels()) {
      return finding.equals(report.finding());
    }
    return measured && (report.nowMs() - grewMs <= withinMs || report.onsetMs() <= onsetMs);
  }

  /** Its level can no longer be compared with the one before. */
  void loseMeasure() {
    measured = false;
    state = Change.State.OPEN;
  }

  /** Another report of the same fall. What is no longer explained by the operation opens it. */
  void goesOn(Account.Report report) {
    for (Witness w : report.felt()) {
      before.merge(w.gauge(), w.before(), Math::max);
    }
    grewMs = report.nowMs();
    if (report.backByMs() == 0) {
      state = Change.State.OPEN;
    }
    measure(report.felt());
  }

  void look(long nowMs, Function<String, Optional<Witness>> now, List<Witness> all) {
    if (!hasLevels() || !measured) {
      return;
    }
    List<Witness> felt = new ArrayList<>();
    before.forEach((gauge, was) -> now.apply(gauge).ifPresent(w -> felt.add(with(w, was, true))));
    measure(felt);
    felt.replaceAll(w -> with(w, w.before(), feels(w)));
    if (peak > GROWS * grewPeak) {
      grewMs = nowMs;
      grewPeak = peak;
    }
    List<Witness> seen = new ArrayList<>(felt);
    for (Witness w : all) {
      if (!before.containsKey(w.gauge())) {
        seen.add(with(w, Double.NaN, false));
      }
    }
    witnesses = List.copyOf(seen);
    comeBack(nowMs, felt);
  }

  private void comeBack(long nowMs, List<Witness> felt) {
    boolean known = false;
    boolean back = true;
    double risen = rise.by(nowMs);
    for (Witness w : felt) {
      if (w.alarms() && !Double.isNaN(w.level())) {
        known = true;
        back &= w.level() >= w.before() + risen - Math.min(w.tolerance(), Change.BACK_SHARE * peak);
      }
    }
    if (!known) {
      return; // what nobody sees is neither back nor gone
    }
    backSinceMs = back ? Math.min(backSinceMs, nowMs) : Long.MAX_VALUE;
    if (back && nowMs - backSinceMs >= STAYS_MS) {
      close(Change.State.BACK, "The pressure is back where it was before.", nowMs);
    } else if (state == Change.State.EXPECTED_BACK && nowMs > backByMs && !back) {
      state = Change.State.OPEN;
    }
  }

  private void measure(List<Witness> felt) {
    double most = Double.NEGATIVE_INFINITY;
    for (Witness w : felt) {
      double lost = before.getOrDefault(w.gauge(), Double.NaN) - w.level();
      if (lost > most) {
        most = lost;
        levelBefore = before.getOrDefault(w.gauge(), Double.NaN);
        level = w.level();
      }
    }
    if (most > Double.NEGATIVE_INFINITY) {
      size = most;
      peak = Math.max(peak, most);
    }
    if (witnesses.isEmpty()) {
      witnesses = felt.stream().map(w -> with(w, w.before(), feels(w))).toList();
    }
  }

  /** Whether a gauge shows its share of what the one that lost most does. */
  private boolean feels(Witness w) {
    return size <= w.tolerance() || w.before() - w.level() >= FELT * size;
  }

  private static Witness with(Witness w, double before, boolean felt) {
    return new Witness(w.gauge(), felt, before, w.level(), w.tolerance(), w.provenMs(), w.alarms());
  }

  void close(Change.State how, String by, long nowMs) {
    state = how;
    closedBy = by;
    closedMs = nowMs;
  }

  Change change() {
    return new Change(
        id,
        sense,
        rule,
        onsetMs,
        size,
        peak,
        levelBefore,
        level,
        witnesses,
        nearby,
        hypotheses,
        state,
        closedBy,
        closedMs);
  }
}

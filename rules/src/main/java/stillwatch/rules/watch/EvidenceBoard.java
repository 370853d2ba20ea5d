package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import stillwatch.rules.account.Account;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.indicator.EvidenceIndicator;

/**
 * Which senses now speak for a leak: from the findings that stand and, for the pressure, from the
 * changes that are open, however old. A finding counts from medium priority up; a sound that
 * somebody near the well may explain counts only beside a loss of pressure, which nobody near the
 * well explains. Not thread-safe.
 */
final class EvidenceBoard {
  private final Map<String, Sign> standing = new TreeMap<>();

  private record Sign(String sense, String rule, long onsetMs, boolean doubtful) {}

  void raised(RuleEntry rule, Finding finding) {
    String sense = rule.sense();
    if (sense != null && finding.priority().compareTo(Priority.LOW) >= 0) {
      boolean doubtful = finding.priority() == Priority.LOW;
      standing.put(finding.id(), new Sign(sense, rule.title(), finding.onsetMs(), doubtful));
    }
  }

  void returned(Finding finding) {
    standing.remove(finding.id());
  }

  /**
   * One entry a sense, the earliest of each, in the order they began.
   *
   * @param pressureSinceMs when the oldest open change of the pressure began; -1 when none is open
   */
  List<EvidenceIndicator> now(long nowMs, long pressureSinceMs) {
    if (standing.isEmpty() && pressureSinceMs < 0) {
      return List.of();
    }
    Map<String, Sign> first = new TreeMap<>();
    boolean pressure = pressureSinceMs >= 0;
    if (pressure) {
      first.put(
          Account.PRESSURE,
          new Sign(Account.PRESSURE, "Pressure lost, unexplained", pressureSinceMs, false));
    }
    for (Sign s : standing.values()) {
      pressure |= s.sense().equals(Account.PRESSURE) && !s.doubtful();
    }
    for (Sign s : standing.values()) {
      if (!s.doubtful() || (pressure && !s.sense().equals(Account.PRESSURE))) {
        first.merge(s.sense(), s, (a, b) -> a.onsetMs() <= b.onsetMs() ? a : b);
      }
    }
    List<EvidenceIndicator> all = new ArrayList<>();
    first.values().stream()
        .sorted(Comparator.comparingLong(Sign::onsetMs).thenComparing(Sign::sense))
        .forEach(
            s ->
                all.add(
                    new EvidenceIndicator(
                        s.sense(), s.rule(), s.onsetMs(), (nowMs - s.onsetMs()) / 1000.0)));
    return all;
  }

  /**
   * Like "sound (Sound over its background) since 11:30:40 UTC, pressure (Pressure falls suddenly)
   * 4 min later".
   */
  static String order(List<EvidenceIndicator> evidence, long nowMs) {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < evidence.size(); i++) {
      EvidenceIndicator e = evidence.get(i);
      text.append(i == 0 ? "" : ", ").append(e.sense()).append(" (").append(e.rule()).append(") ");
      text.append(
          i == 0
              ? "since " + Words.when(e.sinceMs(), nowMs)
              : Words.duration((e.sinceMs() - evidence.get(0).sinceMs()) / 1000) + " later");
    }
    return text.toString();
  }
}

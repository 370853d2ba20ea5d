package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.UtcText;
import stillwatch.rules.indicator.EvidenceIndicator;

/**
 * Which senses now speak for a leak, from the findings that stand. A finding counts from medium
 * priority up: a hint, or a sound that a vessel explains, does not. Not thread-safe.
 */
final class EvidenceBoard {
  private final Map<String, Standing> standing = new TreeMap<>();

  private record Standing(String sense, String rule, long onsetMs) {}

  void raised(RuleEntry rule, Finding finding) {
    String sense = rule.sense();
    if (sense != null && finding.priority().compareTo(Priority.MEDIUM) >= 0) {
      standing.put(finding.id(), new Standing(sense, rule.id(), finding.onsetMs()));
    }
  }

  void returned(Finding finding) {
    standing.remove(finding.id());
  }

  /** One entry a sense, the earliest finding of each, in the order they began. */
  List<EvidenceIndicator> now(long nowMs) {
    if (standing.isEmpty()) {
      return List.of();
    }
    Map<String, Standing> first = new TreeMap<>();
    for (Standing s : standing.values()) {
      first.merge(s.sense(), s, (a, b) -> a.onsetMs() <= b.onsetMs() ? a : b);
    }
    List<EvidenceIndicator> all = new ArrayList<>();
    first.values().stream()
        .sorted(Comparator.comparingLong(Standing::onsetMs).thenComparing(Standing::sense))
        .forEach(
            s ->
                all.add(
                    new EvidenceIndicator(
                        s.sense(), s.rule(), s.onsetMs(), (nowMs - s.onsetMs()) / 1000.0)));
    return all;
  }

  /** Like "sound (acoustic-rise) from 2026-… UTC, pressure (sudden-drop) 4 min later". */
  static String order(List<EvidenceIndicator> evidence) {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < evidence.size(); i++) {
      EvidenceIndicator e = evidence.get(i);
      text.append(i == 0 ? "" : ", ").append(e.sense()).append(" (").append(e.rule()).append(") ");
      text.append(
          i == 0
              ? "from " + UtcText.of(e.sinceMs())
              : Words.duration((e.sinceMs() - evidence.get(0).sinceMs()) / 1000) + " later");
    }
    return text.toString();
  }
}

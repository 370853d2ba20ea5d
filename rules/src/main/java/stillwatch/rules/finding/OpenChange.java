package stillwatch.rules.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * A change of the well that is still open: at least one finding that speaks of it lasts. Immutable.
 *
 * @param id the change's id on the account of the well
 * @param onsetMs when it began, source's time, ms since 1970 UTC
 * @param voice the finding that says it: the one that judges the change itself, else the most
 *     urgent that lasts, of those the newest
 */
public record OpenChange(String id, long onsetMs, Finding voice) {
  private static final Comparator<Finding> SAYS_IT =
      Comparator.comparing(OpenChange::judgesIt)
          .thenComparing(Finding::priority)
          .thenComparing(Finding::raisedMs);

  /**
   * The open changes, the oldest first.
   *
   * @param lasting every finding that was raised and has not returned
   */
  public static List<OpenChange> in(Iterable<Finding> lasting) {
    Map<String, List<Finding>> byChange = new HashMap<>();
    for (Finding f : lasting) {
      String change = f.change();
      if (change != null) {
        byChange.computeIfAbsent(change, id -> new ArrayList<>()).add(f);
      }
    }
    List<OpenChange> open = new ArrayList<>();
    byChange.forEach(
        (id, all) -> {
          Finding voice = all.stream().max(SAYS_IT).orElseThrow();
          long first = all.stream().mapToLong(Finding::onsetMs).min().orElseThrow();
          open.add(new OpenChange(id, judgesIt(voice) ? voice.onsetMs() : first, voice));
        });
    open.sort(Comparator.comparingLong(OpenChange::onsetMs).thenComparing(OpenChange::id));
    return open;
  }

  private static boolean judgesIt(Finding f) {
    return f.subject().equals(f.change());
  }

  /** The first sentence of what is said of it. */
  public String inShort() {
    String says = voice.summary();
    int end = says.indexOf(". ");
    return end < 0 ? says : says.substring(0, end + 1);
  }
}

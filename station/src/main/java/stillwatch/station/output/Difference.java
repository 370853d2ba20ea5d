package stillwatch.station.output;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.UtcText;

/** What one set of limits raises and another does not, and what it raises sooner or later. */
public final class Difference {
  /** Alerts of one rule about the same gauges this close together are the same. */
  private static final long NEAR_MS = 3_600_000;

  private Difference() {}

  /** One line for each alert that appears, disappears or moves, in order of time. */
  public static List<String> between(List<Finding> before, List<Finding> after) {
    List<Finding> unmatched = new ArrayList<>(after);
    record Line(long atMs, String text) {}
    List<Line> lines = new ArrayList<>();
    for (Finding a : before) {
      Finding nearest = nearest(a, unmatched);
      unmatched.remove(nearest);
      String change = change(a, nearest);
      if (!change.isEmpty()) {
        lines.add(new Line(a.raisedMs(), change + ": " + text(a)));
      }
    }
    unmatched.forEach(b -> lines.add(new Line(b.raisedMs(), "appears: " + text(b))));
    lines.sort(Comparator.comparingLong(Line::atMs));
    return lines.stream().map(Line::text).toList();
  }

  private static @Nullable Finding nearest(Finding a, List<Finding> among) {
    return among.stream()
        .filter(b -> b.rule().equals(a.rule()) && b.gauges().equals(a.gauges()))
        .filter(b -> away(a, b) <= NEAR_MS)
        .min(Comparator.comparingLong(b -> away(a, b)))
        .orElse(null);
  }

  private static long away(Finding a, Finding b) {
    return Math.abs(b.raisedMs() - a.raisedMs());
  }

  private static String change(Finding before, @Nullable Finding after) {
    if (after == null) {
      return "disappears";
    }
    long laterMs = after.raisedMs() - before.raisedMs();
    if (laterMs == 0) {
      return "";
    }
    return "comes " + Math.abs(laterMs) / 1000 + (laterMs > 0 ? " s later" : " s sooner");
  }

  private static String text(Finding f) {
    return f.priority().wire()
        + " "
        + f.rule()
        + (f.gauges().isEmpty() ? "" : " (" + String.join(", ", f.gauges()) + ")")
        + ", raised "
        + UtcText.of(f.raisedMs());
  }
}

package stillwatch.station.output;

import java.util.ArrayList;
import java.util.List;
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
      Finding nearest = null;
      for (Finding b : unmatched) {
        long away = Math.abs(b.raisedMs() - a.raisedMs());
        if (b.rule().equals(a.rule())
            && b.gauges().equals(a.gauges())
            && away <= NEAR_MS
            && (nearest == null || away < Math.abs(nearest.raisedMs() - a.raisedMs()))) {
          nearest = b;
        }
      }
      if (nearest == null) {
        lines.add(new Line(a.raisedMs(), "disappears: " + text(a)));
      } else {
        unmatched.remove(nearest);
        long later = nearest.raisedMs() - a.raisedMs();
        if (later != 0) {
          lines.add(
              new Line(
                  a.raisedMs(),
                  (later > 0
                          ? "comes " + later / 1000 + " s later: "
                          : "comes " + -later / 1000 + " s sooner: ")
                      + text(a)));
        }
      }
    }
    unmatched.forEach(b -> lines.add(new Line(b.raisedMs(), "appears: " + text(b))));
    lines.sort(java.util.Comparator.comparingLong(Line::atMs));
    return lines.stream().map(Line::text).toList();
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

package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import stillwatch.rules.book.Priority;

/**
 * What is to be thought of a gauge that alone sees a loss. Immutable.
 *
 * @param priority the priority of the worst explanation that is still credible
 * @param forWell what speaks for the well, one short clause each
 * @param againstWell what speaks against it
 * @param forGauge what speaks for the gauge's own fault
 */
record Judgement(
    Priority priority, List<String> forWell, List<String> againstWell, List<String> forGauge) {
  /** One with its lists kept from changing. */
  Judgement {
    forWell = List.copyOf(forWell);
    againstWell = List.copyOf(againstWell);
    forGauge = List.copyOf(forGauge);
  }

  /** All of it in one sentence; empty when nothing speaks for anything. */
  String sentence() {
    List<String> parts = new ArrayList<>();
    add(parts, "for the well: ", forWell);
    add(parts, "against the well: ", againstWell);
    add(parts, "for the gauge: ", forGauge);
    String text = String.join("; ", parts);
    return text.isEmpty() ? "" : Character.toUpperCase(text.charAt(0)) + text.substring(1) + ".";
  }

  private static void add(List<String> parts, String before, List<String> clauses) {
    if (!clauses.isEmpty()) {
      parts.add(before + String.join(", ", clauses));
    }
  }
}

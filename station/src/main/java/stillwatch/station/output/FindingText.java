package stillwatch.station.output;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.Hypothesis;
import stillwatch.rules.finding.OpenChange;
import stillwatch.rules.finding.UtcText;

/** A finding as people read it in a terminal. */
public final class FindingText {
  private FindingText() {}

  /** A finding as its lines of text. */
  public static String of(Finding f) {
    Long returned = f.returnedMs();
    if (returned != null) {
      return String.format(
          "%s  ENDED        %s: %s%n", UtcText.of(returned), f.rule(), f.summary());
    }
    StringBuilder text = new StringBuilder();
    text.append(
        String.format(
            "%s  %-11s  %s: %s%n",
            UtcText.of(f.raisedMs()),
            f.priority().wire().toUpperCase(Locale.ROOT),
            f.rule(),
            f.title()));
    text.append("    ").append(f.summary()).append(System.lineSeparator());
    for (Hypothesis h : f.evidence().hypotheses()) {
      text.append(weighed(h));
    }
    text.append("    Active since ").append(UtcText.of(f.onsetMs()));
    if (!f.gauges().isEmpty()) {
      text.append("; gauges ").append(String.join(", ", f.gauges()));
    }
    text.append("; phase ").append(f.phase().isEmpty() ? "not stated" : f.phase());
    text.append("; limits ")
        .append(
            String.join(
                ", ",
                f.limits().entrySet().stream().map(e -> e.getKey() + " " + e.getValue()).toList()));
    text.append(System.lineSeparator())
        .append("    Advice: ")
        .append(f.advice())
        .append(System.lineSeparator());
    return text.toString();
  }

  private static String weighed(Hypothesis h) {
    List<String> sides = new ArrayList<>();
    if (!h.pro().isEmpty()) {
      sides.add("for: " + String.join(", ", h.pro()));
    }
    if (!h.con().isEmpty()) {
      sides.add("against: " + String.join(", ", h.con()));
    }
    return sides.isEmpty()
        ? ""
        : "    Cause "
            + h.cause().wire()
            + " - "
            + String.join("; ", sides)
            + System.lineSeparator();
  }

  /** The changes that are still open where a recording ends; empty when there are none. */
  public static String open(List<OpenChange> changes) {
    StringBuilder text = new StringBuilder();
    for (OpenChange c : changes) {
      text.append(
          String.format(
              "Open at the end of the recording: change %s, since %s%n    %s%n",
              c.id(), UtcText.of(c.onsetMs()), c.voice().summary()));
    }
    return text.toString();
  }
}

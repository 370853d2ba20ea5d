package stillwatch.alerts.route;

import java.time.Instant;
import java.util.Locale;
import stillwatch.rules.finding.Finding;

/** An alert in plain words that read well on a phone. */
final class AlertText {
  /** What everything says that an exercise sends out. */
  static final String EXERCISE = "EXERCISE, from a recording, not from the well.";

  private AlertText() {}

  private static String time(long ms) {
    return Instant.ofEpochMilli(ms).toString().substring(0, 19).replace('T', ' ') + " UTC";
  }

  /** One line. */
  static String line(Delivery d) {
    Finding f = d.finding();
    String over = f.returned() ? "over: " : "";
    return (d.exercise() ? "EXERCISE " : "")
        + f.priority().wire().toUpperCase(Locale.ROOT)
        + " "
        + f.well()
        + " "
        + over
        + f.title();
  }

  /** The whole, the most important first. */
  static String body(Delivery d) {
    Finding f = d.finding();
    StringBuilder text = new StringBuilder();
    if (d.exercise()) {
      text.append(EXERCISE).append("\n\n");
    }
    text.append(f.summary()).append("\n\n");
    if (!f.returned()) {
      text.append(f.advice()).append("\n\n");
    }
    text.append("Began ").append(time(f.onsetMs())).append('\n');
    text.append("Raised ").append(time(f.raisedMs())).append('\n');
    Long over = f.returnedMs();
    if (over != null) {
      text.append("Over ").append(time(over)).append('\n');
    }
    if (!f.gauges().isEmpty()) {
      text.append("Gauges ").append(String.join(", ", f.gauges())).append('\n');
    }
    text.append("Phase ").append(f.phase()).append('\n');
    text.append("Rule ").append(f.rule()).append(", alert ").append(f.id()).append('\n');
    if (d.event().startsWith("raised-")) {
      text.append("Said before; nobody has acknowledged it.\n");
    }
    if (d.repeated()) {
      text.append("Attempt ").append(d.attempt()).append(": it may have reached you before.\n");
    }
    text.append("Record ").append(d.shortRecord()).append('\n');
    return text.append('\n').append(ShortCaution.TEXT.replace(". ", ".\n")).append('\n').toString();
  }
}

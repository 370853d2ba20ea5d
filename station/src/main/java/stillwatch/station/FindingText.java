package stillwatch.station;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import stillwatch.rules.finding.Finding;

/** A finding as people read it in a terminal. */
final class FindingText {
  private static final DateTimeFormatter CLOCK =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss", Locale.ROOT).withZone(ZoneOffset.UTC);

  private FindingText() {}

  static String of(Finding f) {
    Long returned = f.returnedMs();
    if (returned != null) {
      return String.format("%s UTC  over         %s: %s%n", clock(returned), f.rule(), f.summary());
    }
    StringBuilder text = new StringBuilder();
    text.append(
        String.format("%s UTC  %-11s  %s: %s%n", clock(f.raisedMs()), f.priority().wire().toUpperCase(Locale.ROOT), f.rule(), f.title()));
    text.append("    ").append(f.summary()).append(System.lineSeparator());
    text.append("    Began ").append(clock(f.onsetMs())).append(" UTC");
    if (!f.gauges().isEmpty()) {
      text.append("; gauges ").append(String.join(", ", f.gauges()));
    }
    text.append("; phase ").append(f.phase().isEmpty() ? "not stated" : f.phase());
    text.append("; limits ").append(String.join(", ", f.limits().entrySet().stream().map(e -> e.getKey() + " " + e.getValue()).toList()));
    text.append(System.lineSeparator()).append("    The plan: ").append(f.advice()).append(System.lineSeparator());
    return text.toString();
  }

  private static String clock(long ms) {
    return CLOCK.format(Instant.ofEpochMilli(ms));
  }
}

package stillwatch.alerts.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.rules.plan.GaugePlan;

/** How long each gauge stood under an alarm of its own. */
final class GaugesChapter {
  private final ReportParts parts;
  private final long fromMs;

  /** Since that time of the log. */
  GaugesChapter(ReportParts parts, long fromMs) {
    this.parts = parts;
    this.fromMs = fromMs;
  }

  void write(Html html) {
    html.heading("Gauges");
    double hours = Math.max(1e-9, (parts.endMs() - fromMs) / 3_600_000.0);
    List<List<String>> rows = new ArrayList<>();
    for (GaugePlan g : parts.plan().gauges()) {
      List<String> faults = new ArrayList<>();
      under(g).forEach((rule, h) -> faults.add(rule + " " + share(h, hours)));
      String text = faults.isEmpty() ? "no fault seen" : String.join(", ", faults);
      rows.add(List.of(g.id(), g.kind().wire(), g.where(), text));
    }
    html.table(
        List.of("Gauge", "Kind", "Where", "Time under a gauge alarm"), rows, "The plan has none.");
  }

  private static String share(double hours, double ofHours) {
    return Words.span(hours * 3600)
        + String.format(Locale.ROOT, " (%.1f %%)", 100 * hours / ofHours);
  }

  /** The hours under each rule that speaks of a gauge. */
  private Map<String, Double> under(GaugePlan g) {
    Map<String, Double> under = new TreeMap<>();
    for (DeskAlarm a : parts.alarms()) {
      if (a.finding().ofGauges() && a.finding().gauges().contains(g.id())) {
        Long over = a.finding().returnedMs();
        long end = Math.min(parts.endMs(), over == null ? Long.MAX_VALUE : over);
        long from = Math.max(fromMs, a.finding().onsetMs());
        under.merge(a.finding().rule(), Math.max(0, end - from) / 3_600_000.0, Double::sum);
      }
    }
    return under;
  }
}

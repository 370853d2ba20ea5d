package stillwatch.alerts.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.OpenChange;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.Pressures;

/** How the test stands at the end of what the report is about, on its first page. */
final class Outcome {
  private static final long HOUR_MS = 3_600_000;

  private final ReportParts parts;
  private final ShutInGauges shutIn;

  Outcome(ReportParts parts, ShutInGauges shutIn) {
    this.parts = parts;
    this.shutIn = shutIn;
  }

  void write(Html html) {
    html.heading("Outcome at " + parts.time(parts.endMs()));
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of(parts.stretch().whole() ? "Phase" : "Phase at the end of the log", phase()));
    rows.add(List.of("Shut-in pressure", pressure()));
    rows.add(List.of("Open losses and signs", open()));
    rows.add(List.of("Alarms", alarms()));
    rows.add(List.of("Last decision", decision()));
    rows.add(List.of("Watch blind", blind()));
    String fault = parts.check().fault();
    rows.add(
        List.of("Journal", fault == null ? "whole" : "THE JOURNAL IS NOT WHOLE: " + fault + "."));
    html.table(List.of("Question", "Answer"), rows, "");
  }

  private String phase() {
    String phase = parts.picture().phase();
    return parts
        .picture()
        .shutInMs()
        .filter(at -> at <= parts.endMs())
        .map(
            at ->
                phase
                    + "; shut in since "
                    + parts.time(at)
                    + ", for "
                    + Words.span((parts.endMs() - at) / 1000.0))
        .orElse(phase + "; not shut in");
  }

  private String pressure() {
    if (shutIn.gauges().isEmpty()) {
      return "no gauge";
    }
    Pressures unit = Pressures.of(parts.plan());
    var gauge = shutIn.gauges().get(0);
    long endMs = parts.endMs() - shutIn.columns().columnMs();
    double level = shutIn.near(gauge, endMs);
    if (Double.isNaN(level)) {
      return "no reading of " + gauge.id() + " in the last ten minutes";
    }
    double hours = parts.picture().shutInMs().map(at -> (endMs - at) / 3.6e6).orElse(Double.NaN);
    double rate = level - shutIn.near(gauge, endMs - HOUR_MS);
    return unit.fine(level)
        + " "
        + unit.sign()
        + " by "
        + gauge.id()
        + ", "
        + band(level, parts.plan().bands().after(hours), parts.picture().open())
        + (Double.isNaN(rate)
            ? ""
            : String.format(
                "; %s by %s in the last hour",
                rate < 0 ? "fell" : "rose", unit.difference(Math.abs(rate))));
  }

  private static String band(double level, Bands bands, boolean open) {
    if (level >= bands.ceilingKPa()) {
      return "ABOVE THE CEILING";
    }
    if (level >= bands.intactLowKPa()) {
      return "in the intact band";
    }
    if (open) {
      return "low, as expected of an open well";
    }
    return level <= bands.leakHighKPa() ? "in the leak band" : "between the bands";
  }

  private String open() {
    List<OpenChange> open = parts.open();
    return open.isEmpty()
        ? "none"
        : open.size() + " unexplained, the oldest since " + parts.time(open.get(0).onsetMs());
  }

  private String alarms() {
    List<DeskAlarm> asking = parts.alarms().stream().filter(a -> a.standing().asking()).toList();
    StringBuilder text = new StringBuilder();
    for (Priority p : List.of(Priority.HIGH, Priority.MEDIUM, Priority.LOW)) {
      long n = asking.stream().filter(a -> a.finding().priority() == p).count();
      text.append(text.isEmpty() ? "" : ", ")
          .append(n)
          .append(' ')
          .append(p.wire().toUpperCase(Locale.ROOT));
    }
    List<DeskAlarm> not = asking.stream().filter(a -> a.acknowledgedMs() == null).toList();
    long held = not.stream().filter(a -> a.state().held()).count();
    return text
        + "; "
        + not.size()
        + " not acknowledged"
        + (held == 0 ? "" : " (" + held + " of them shelved or out of service)");
  }

  private String decision() {
    List<Decision> all = parts.decisions();
    if (all.isEmpty()) {
      return "none logged";
    }
    Decision last = all.get(all.size() - 1);
    return "%s, %s, by %s; %s in all"
        .formatted(last.choice().wire(), parts.time(last.atMs()), last.by(), all.size());
  }

  private String blind() {
    List<DeskAlarm> blind =
        parts.alarms().stream().filter(a -> a.finding().meaning().blinds()).toList();
    return blind.isEmpty()
        ? "at no time that the watch knows of"
        : blind.size() + (blind.size() == 1 ? " time" : " times") + ", see What was not seen";
  }
}

package stillwatch.alerts.report;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import stillwatch.alerts.desk.AlarmFigures;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.journal.Entry;
import stillwatch.rules.finding.OpenChange;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.RuleSetting;

/** What the watch raised, what became of it, and what it did not see. */
final class AlarmChapters {
  private final ReportParts parts;
  private final Plan plan;

  AlarmChapters(ReportParts parts) {
    this.parts = parts;
    plan = parts.plan();
  }

  void openChanges(Html html) {
    html.heading("Open losses and signs, unexplained");
    List<List<String>> rows = new ArrayList<>();
    for (OpenChange c : parts.open()) {
      rows.add(
          List.of(
              parts.time(c.onsetMs()),
              Words.span((parts.endMs() - c.onsetMs()) / 1000.0),
              c.id(),
              c.voice().summary()));
    }
    html.table(List.of("Since", "Age", "Change", "What is known"), rows, "None is open.");
  }

  void alarms(Html html) {
    html.page("Alarms");
    List<List<String>> rows = new ArrayList<>();
    for (DeskAlarm a : parts.alarms()) {
      rows.add(
          List.of(
              parts.time(a.finding().onsetMs()),
              parts.time(a.finding().raisedMs()),
              a.finding().priority().wire().toUpperCase(Locale.ROOT) + " " + a.finding().rule(),
              a.raisedSummary(),
              answered(a),
              over(a)));
    }
    html.table(
        List.of("Since", "Raised", "Alarm", "Sentence when raised", "Acknowledged", "Returned"),
        rows,
        "None was raised.");
  }

  /** Who answered, and by the desk's clock how long after the desk had it. */
  private String answered(DeskAlarm a) {
    Long at = a.acknowledgedMs();
    if (at == null) {
      return a.standing().asking() ? "NOBODY" : "for information";
    }
    long raised =
        parts.entries().stream()
            .filter(e -> e.seq() == a.seq())
            .mapToLong(Entry::writtenMs)
            .findFirst()
            .orElse(at);
    return a.acknowledgedBy()
        + " after "
        + Words.span((at - raised) / 1000.0)
        + (parts.exercise() ? " by this machine's clock" : "")
        + (a.note().isEmpty() ? "" : ": " + a.note());
  }

  private String over(DeskAlarm a) {
    Long returned = a.finding().returnedMs();
    return returned == null || parts.activeAtEnd(returned) ? "ACTIVE" : parts.time(returned);
  }

  void figures(Html html) {
    html.heading("Alarm figures");
    AlarmFigures f = AlarmFigures.sinceFirst(parts.alarms(), plan.desk(), parts.picture().logMs());
    StringBuilder shares = new StringBuilder();
    f.shares()
        .forEach(
            (p, s) ->
                shares.append(p.wire()).append(String.format(Locale.ROOT, " %.0f %%  ", 100 * s)));
    List<List<String>> rows =
        List.of(
            List.of("Alarms", f.alarms() + " in " + Words.span(f.hours() * 3600), ""),
            List.of(
                "Mean in ten minutes",
                String.format(Locale.ROOT, "%.2f", f.perTenMinutes()),
                "about 1 (2 is the most an operator can handle)"),
            List.of(
                "Most in any ten minutes", Integer.toString(f.mostInTenMinutes()), "10 or fewer"),
            List.of(
                "Time in flood",
                String.format(Locale.ROOT, "%.1f %%", 100 * f.floodShare()),
                "under about 1 %"),
            List.of("Lasting for more than a day", Integer.toString(f.stale()), "fewer than 5"),
            List.of(
                "Chattering",
                f.chattering().isEmpty() ? "none" : String.join("; ", f.chattering()),
                "none"),
            List.of("Priorities", shares.toString().strip(), "low 80 %, medium 15 %, high 5 %"));
    html.table(
        List.of("Measure (ANSI/ISA-18.2, 16.4)", "Here", "Very likely acceptable"), rows, "");
  }

  void unseen(Html html) {
    html.heading("What was not seen");
    blindTimes(html);
    switchedOff(html);
    suppressed(html);
  }

  private void blindTimes(Html html) {
    List<List<String>> rows = new ArrayList<>();
    for (DeskAlarm a : parts.alarms()) {
      if (a.finding().meaning().blinds()) {
        rows.add(
            List.of(
                parts.time(a.finding().onsetMs()), over(a), a.finding().rule(), a.raisedSummary()));
      }
    }
    html.table(
        List.of("From", "Until", "Rule", "Why"),
        rows,
        "The watch was never blind as far as it knows; what it does not know of is not here.");
  }

  private void switchedOff(Html html) {
    List<List<String>> off = new ArrayList<>();
    for (Map.Entry<String, RuleSetting> e : plan.rules().entrySet()) {
      String why = e.getValue().off();
      if (why != null) {
        off.add(List.of(e.getKey(), why));
      }
    }
    html.table(List.of("Rule switched off", "Why"), off, "No rule was switched off.");
  }

  private void suppressed(Html html) {
    List<List<String>> held = new ArrayList<>();
    for (Entry e : parts.said("held-back", "released")) {
      JsonNode b = ReportParts.body(e);
      held.add(
          List.of(
              parts.entered(e),
              e.what().equals("held-back") ? "suppressed" : "restored",
              e.subject(),
              e.by(),
              b.path("how").asText() + " " + b.path("reason").asText()));
    }
    html.table(
        List.of("When", "What", "Point", "By", "How and why"),
        held,
        "No alarm was suppressed by anybody.");
  }
}

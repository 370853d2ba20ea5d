package stillwatch.alerts.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.series.CycleTable;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.rules.closing.Cycle;
import stillwatch.rules.closing.Departure;
import stillwatch.rules.closing.Opening;
import stillwatch.rules.closing.StepTaken;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.ready.Standing;
import stillwatch.rules.watch.Collecting;

/**
 * Each cycle of the test, the readiness before the newest, each opening, then all cycles side by
 * side.
 */
final class CycleChapters {
  private final ReportParts parts;
  private final CycleTable table;

  CycleChapters(ReportParts parts) {
    this.parts = parts;
    table = new CycleTable(parts.plan());
  }

  /** As it stood before the newest closing, or stands before the one that is to come. */
  private void readiness(Html html, String heading) {
    if (parts.plan().readiness().isEmpty() || !parts.stretch().whole()) {
      return;
    }
    Optional<Long> begunMs = parts.picture().closingBegunMs();
    html.heading(heading);
    html.lead(
        begunMs
            .map(ms -> "As it stood before the first closure step, " + parts.time(ms) + ".")
            .orElse("No closure step of the next closing is logged yet."));
    List<List<String>> rows = new ArrayList<>();
    List<Finding> findings = parts.alarms().stream().map(DeskAlarm::finding).toList();
    for (Standing s : parts.picture().readiness(findings)) {
      rows.add(
          List.of(
              s.met() ? "met" : "OPEN",
              s.condition().name() + ": " + s.condition().text(),
              s.condition().owner(),
              s.why()));
    }
    html.table(List.of("State", "Condition", "Owner", "Known by"), rows, "");
    html.paragraph("Decided: " + go(parts.picture().goDecided()) + ".");
  }

  private String go(Optional<Decision> decided) {
    return decided
        .map(
            d ->
                "%s, by %s at %s: %s"
                    .formatted(d.choice().wire(), d.by(), parts.time(d.atMs()), d.why()))
        .orElse("no go or no-go is logged");
  }

  void write(Html html) {
    List<Cycle> all = parts.picture().cycles();
    List<Cycle> told = all.stream().filter(this::touches).toList();
    boolean another = parts.picture().closingBegunMs().isEmpty();
    for (Cycle c : told) {
      if (c.number() == all.size() && !another) {
        readiness(html, "Readiness before cycle " + c.number());
      }
      cycle(html, c);
    }
    if (another) {
      readiness(html, "Readiness before cycle " + (all.size() + 1));
    }
    parts.picture().openings().forEach(o -> opening(html, o));
    if (told.isEmpty()) {
      return;
    }
    html.heading("Cycles at the same hours after the shut-in");
    html.table(
        table.heads(told),
        table.rows(told),
        "No cycle has been shut in for an hour with a reading.");
    collection(html);
  }

  private void collection(Html html) {
    List<List<String>> rows = new ArrayList<>();
    for (Collecting.Unit u : parts.picture().units()) {
      if (parts.stretch().has(u.atMs())) {
        rows.add(List.of(parts.time(u.atMs()), u.lost() ? "LOST" : "collects", u.text(), u.by()));
      }
    }
    if (!rows.isEmpty()) {
      html.heading("Collection units as last reported");
      html.table(List.of("When", "State", "Unit", "By"), rows, "");
      html.paragraph(parts.picture().balance() + ".");
    }
  }

  private boolean touches(Cycle c) {
    return c.begunMs() <= parts.endMs()
        && c.overMs().orElse(Long.MAX_VALUE) >= parts.stretch().fromMs();
  }

  private void cycle(Html html, Cycle c) {
    html.heading("Cycle " + c.number());
    html.lead(
        "%sBegun %s; %s%s. Go or no-go before it: %s."
            .formatted(
                c.changes().isEmpty() ? "" : "Changes: " + c.changes() + ". ",
                parts.time(c.begunMs()),
                c.shutInMs().map(ms -> "shut in " + parts.time(ms)).orElse("not shut in"),
                c.overMs().map(ms -> "; over " + parts.time(ms)).orElse(""),
                go(c.go())));
    steps(html, c.steps(), "No closure step lies in this stretch.");
    parts.picture().rock(c.number()).forEach(r -> html.paragraph(r.text()));
    departures(html, "closing", c.departures(), parts.plan().closing().isEmpty());
  }

  private void opening(Html html, Opening o) {
    if (o.begunMs() > parts.endMs()
        || o.overMs().orElse(Long.MAX_VALUE) < parts.stretch().fromMs()) {
      return;
    }
    html.heading("Opening " + o.number());
    html.lead(
        "Begun %s%s.%s"
            .formatted(
                parts.time(o.begunMs()),
                o.overMs().map(ms -> "; over " + parts.time(ms) + " by a closure step").orElse(""),
                o.next().map(s -> " Next of the list: " + s.name() + ".").orElse("")));
    steps(html, o.steps(), "No opening step lies in this stretch.");
    departures(html, "opening", o.departures(), parts.plan().opening().isEmpty());
  }

  private void steps(Html html, List<StepTaken> steps, String none) {
    List<List<String>> rows = new ArrayList<>();
    for (StepTaken s : steps) {
      if (parts.stretch().has(s.atMs())) {
        rows.add(
            List.of(
                parts.time(s.atMs()),
                s.text() + (s.undone() ? " (taken back by an opening step)" : ""),
                table.readings(s),
                s.planned().map(table::expected).orElse(""),
                s.answer().words()));
      }
    }
    html.table(
        List.of("When", "Step", "Pressure before and after", "Expected", "Response"), rows, none);
  }

  private void departures(Html html, String which, List<Departure> all, boolean noList) {
    List<List<String>> departures = new ArrayList<>();
    for (Departure d : all) {
      if (parts.stretch().has(d.atMs())) {
        departures.add(List.of(parts.time(d.atMs()), d.kind().wire(), d.why() + "."));
      }
    }
    html.table(
        List.of("When", "In what", "Departure from the plan"),
        departures,
        noList
            ? "The plan has no " + which + " list to depart from."
            : "The " + which + " does not depart from the plan.");
  }
}

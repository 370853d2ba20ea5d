package stillwatch.alerts.report;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import stillwatch.alerts.journal.Entry;
import stillwatch.rules.plan.Plan;

/** The story of a test as one XHTML page that prints. Not thread-safe. */
public final class Report {
  private final ReportParts parts;
  private final Plan plan;
  private final Html html = new Html();

  private Report(ReportParts parts) {
    this.parts = parts;
    plan = parts.plan();
  }

  /** The report as XHTML. */
  public static String of(ReportParts parts) {
    Report r = new Report(parts);
    r.write();
    return r.page();
  }

  private String page() {
    return """
        <!DOCTYPE html>
        <html xmlns="http://www.w3.org/1999/xhtml" lang="en"><head><meta charset="UTF-8"/>
        <title>%s</title><style>%s</style></head><body>
        %s</body></html>
        """
        .formatted(Html.escaped(title()), style(), html.text());
  }

  private static String style() {
    try (InputStream in = Report.class.getResourceAsStream("/stillwatch/report/report.css")) {
      if (in == null) {
        throw new IllegalStateException("report.css is missing from the program; build it again");
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read report.css", e);
    }
  }

  private String title() {
    return plan.name() + ": report of the shut-in test";
  }

  private void write() {
    ShutInGauges shutIn = new ShutInGauges(parts);
    PressureChapters pressure = new PressureChapters(parts, shutIn);
    AlarmChapters alarms = new AlarmChapters(parts);
    PeopleChapters people = new PeopleChapters(parts);
    head();
    new Outcome(parts, shutIn).write(html);
    sign();
    new CycleChapters(parts).write(html);
    new SeabedChapter(parts).write(html);
    new LeavingChapter(parts).write(html);
    pressure.steps(html);
    pressure.pressure(html);
    new BuildUpChapter(parts).write(html);
    alarms.openChanges(html);
    alarms.alarms(html);
    people.decisions(html);
    people.explanations(html);
    people.others(html);
    new GaugesChapter(parts, shutIn.columns().fromMs()).write(html);
    alarms.figures(html);
    new LimitsChapter(parts).write(html);
    alarms.unseen(html);
    record();
    html.raw("<p class=\"cautions\">" + Html.escaped(parts.cautions()) + "</p>");
  }

  private void head() {
    html.raw("<h1>" + Html.escaped(title()) + "</h1>");
    if (parts.exercise()) {
      html.raw("<p class=\"exercise\">EXERCISE: a recording fed the watch, not the well.</p>");
    }
    html.paragraph(
        "Plan %s, fingerprint %s. %s; report made %s UTC. Pressures are absolute. A time without a date is of %s."
            .formatted(
                plan.revision(),
                plan.fingerprint(),
                stretch(),
                Words.time(parts.madeMs()),
                Words.time(parts.endMs()).substring(0, 10)));
  }

  /** Who has signed in the room; and where to sign on paper. */
  private void sign() {
    List<List<String>> rows = new ArrayList<>();
    for (Entry e : parts.said("signed")) {
      JsonNode b = ReportParts.body(e);
      rows.add(
          List.of(
              e.by().isEmpty() ? "not recorded" : e.by(),
              Words.time(e.writtenMs()) + " UTC",
              "entries 1 to " + b.path("entries").asText() + ", " + b.path("hash").asText(),
              b.path("text").asText()));
    }
    if (!rows.isEmpty()) {
      html.table(List.of("Signed by", "When", "Over the record", "Said"), rows, "");
    }
    html.raw(
        "<table class=\"sign\"><tr><td>Surveillance lead</td><td>Authority in charge</td></tr><tr><td>name, date, signature</td><td>name, date, signature</td></tr></table>");
  }

  private String stretch() {
    return parts.stretch().whole()
        ? "Log until " + Words.time(parts.picture().logMs()) + " UTC"
        : "For the stretch from "
            + Words.time(Math.max(parts.stretch().fromMs(), 0))
            + " UTC to "
            + Words.time(parts.endMs())
            + " UTC only";
  }

  private void record() {
    html.heading("The record");
    html.paragraph(
        parts.check().entries() + " entries, each with the SHA-256 of the one before; the last is");
    html.raw("<p class=\"hash\">" + parts.check().hash() + "</p>");
    html.dim(
        "Prove it later: stillwatch journal verify --expect "
            + parts.check().hash().substring(0, 16));
  }
}

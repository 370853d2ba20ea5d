package stillwatch.alerts.report;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import stillwatch.alerts.journal.Entry;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.rules.indicator.PassIndicator;

/** What people decided, explained, saw and handed over. */
final class PeopleChapters {
  private final ReportParts parts;

  PeopleChapters(ReportParts parts) {
    this.parts = parts;
  }

  void decisions(Html html) {
    html.heading("Decisions, and the evidence as it stood");
    List<List<String>> logged = new ArrayList<>();
    parts
        .picture()
        .decisions()
        .forEach(
            d -> logged.add(List.of(Words.time(d.atMs()), d.choice().wire(), d.by(), d.why())));
    html.table(List.of("When", "Decided", "By", "Why"), logged, "None was logged.");
    for (Entry e : parts.said("decision")) {
      JsonNode d = ReportParts.body(e);
      html.paragraph(
          "%s: %s, entered by %s, entry %s of the record. On the table:"
              .formatted(d.path("at").asText(), d.path("choice").asText(), e.by(), e.seq()));
      evidence(html, d.path("evidence").path("rows"));
    }
  }

  private static void evidence(Html html, JsonNode table) {
    List<List<String>> rows = new ArrayList<>();
    for (JsonNode r : table) {
      rows.add(
          List.of(
              r.path("sense").asText(),
              r.path("supports").asText(),
              r.path("says").asText(),
              r.has("age_s") ? Words.span(r.path("age_s").asDouble()) : ""));
    }
    html.table(List.of("Sense", "Supports", "What it said", "Age"), rows, "Nothing was kept.");
  }

  void explanations(Html html) {
    html.heading("Changes that people explained");
    List<List<String>> rows = new ArrayList<>();
    for (Explanation e : parts.picture().explanations()) {
      rows.add(List.of(Words.time(e.atMs()), e.change(), e.cause().wire(), e.by(), e.why()));
    }
    html.table(List.of("When", "Change", "Cause", "By", "Why"), rows, "Nobody explained any.");
  }

  void others(Html html) {
    html.heading("Observations, notes, shifts");
    List<List<String>> rows = new ArrayList<>();
    for (Entry e : parts.said("observation", "note", "handover")) {
      rows.add(List.of(Words.time(e.writtenMs()), e.what(), e.by(), inWords(e)));
    }
    html.table(List.of("Entered", "What", "By", "In words"), rows, "Nobody entered any.");
    passes(html);
  }

  private static String inWords(Entry e) {
    JsonNode b = ReportParts.body(e);
    String text = b.path("text").asText();
    return switch (e.what()) {
      case "observation" ->
          b.path("means").asText() + ", " + b.path("result").asText() + ": " + text;
      case "handover" -> "to " + e.subject() + ": " + text;
      default -> e.body();
    };
  }

  private void passes(Html html) {
    List<List<String>> passes = new ArrayList<>();
    for (PassIndicator p : parts.picture().passes(parts.plan().well())) {
      passes.add(
          List.of(
              p.means(),
              p.result().isEmpty() ? "NEVER" : p.result() + ", " + Words.time(p.atMs()),
              p.overdueS() > 0 ? "OVERDUE by " + Words.span(p.overdueS()) : ""));
    }
    html.table(List.of("Looked by", "Last", "Next"), passes, "The plan asks for no passes.");
  }
}

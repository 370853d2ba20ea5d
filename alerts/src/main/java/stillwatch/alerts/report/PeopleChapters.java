package stillwatch.alerts.report;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
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
    html.heading("Decisions, and the evidence at that time");
    List<List<String>> logged = new ArrayList<>();
    parts
        .decisions()
        .forEach(
            d ->
                logged.add(
                    List.of(
                        parts.time(d.atMs()), d.choice().wire(), d.by(), d.why(), d.changes())));
    html.table(
        List.of("When", "Decided", "By", "Why", "What another cycle changes"),
        logged,
        "None was logged.");
    for (Entry e : parts.said("decision")) {
      JsonNode d = ReportParts.body(e);
      html.paragraph(
          "%s: %s, entered by %s, entry %s of the record. Evidence at that time:"
              .formatted(when(d.path("at").asText()), d.path("choice").asText(), e.by(), e.seq()));
      evidence(html, d.path("evidence").path("rows"), d.path("at").asText());
      if (d.has("leaving")) {
        leaving(html, d.path("leaving"));
      }
    }
  }

  private static void leaving(Html html, JsonNode table) {
    List<List<String>> rows = new ArrayList<>();
    for (JsonNode r : table) {
      rows.add(
          List.of(r.path("about").asText(), r.path("answer").asText(), r.path("says").asText()));
    }
    html.table(List.of("May it be left unattended?", "Answer", "What it said"), rows, "");
  }

  private void evidence(Html html, JsonNode table, String decided) {
    List<List<String>> rows = new ArrayList<>();
    for (JsonNode r : table) {
      rows.add(
          List.of(
              r.path("sense").asText(),
              dated(r, decided),
              r.path("says").asText(),
              r.has("age_s") ? Words.span(r.path("age_s").asDouble()) : ""));
    }
    html.table(List.of("Sense", "Supports", "What it said", "Age"), rows, "Nothing was kept.");
  }

  private String when(String at) {
    OptionalLong ms = Words.ms(at);
    return ms.isPresent() ? parts.time(ms.getAsLong()) : at;
  }

  /** What a row supports; no information where it is older than the shut-in. */
  private String dated(JsonNode row, String decided) {
    long ageMs = Math.round(1000 * row.path("age_s").asDouble());
    boolean before =
        row.has("age_s")
            && Words.ms(decided).stream()
                .anyMatch(
                    ms -> parts.picture().shutInMs().filter(at -> ms - ageMs < at).isPresent());
    return before ? "no information (before the shut-in)" : row.path("supports").asText();
  }

  void explanations(Html html) {
    html.heading("Changes that people explained");
    List<List<String>> rows = new ArrayList<>();
    for (Explanation e : parts.picture().explanations()) {
      if (parts.stretch().has(e.atMs())) {
        rows.add(List.of(parts.time(e.atMs()), e.change(), e.cause().wire(), e.by(), e.why()));
      }
    }
    html.table(List.of("When", "Change", "Cause", "By", "Why"), rows, "Nobody explained any.");
  }

  void others(Html html) {
    html.heading("Observations, notes, shifts");
    List<List<String>> rows = new ArrayList<>();
    for (Entry e :
        parts.said("observation", "note", "correction", "handover", "handover-accepted")) {
      rows.add(
          List.of(Long.toString(e.seq()), parts.time(e.writtenMs()), e.what(), e.by(), inWords(e)));
    }
    html.table(List.of("Entry", "Entered", "What", "By", "In words"), rows, "Nobody entered any.");
    passes(html);
  }

  private static String inWords(Entry e) {
    JsonNode b = ReportParts.body(e);
    String text = b.path("text").asText();
    return switch (e.what()) {
      case "observation" ->
          b.path("means").asText() + ", " + b.path("result").asText() + ": " + text;
      case "handover" -> "to " + e.subject() + ", proposed: " + text;
      case "handover-accepted" -> "from " + e.subject() + ": " + text;
      case "correction" -> "corrects entry " + e.subject() + ": " + text;
      default -> e.body();
    };
  }

  private void passes(Html html) {
    List<List<String>> passes = new ArrayList<>();
    for (PassIndicator p : parts.picture().passes(parts.plan().well())) {
      passes.add(
          List.of(
              p.means(),
              p.result().isEmpty() ? "NEVER" : p.result() + ", " + parts.time(p.atMs()) + late(p),
              p.overdueS() > 0 ? "OVERDUE by " + Words.span(p.overdueS()) : ""));
    }
    html.table(List.of("Pass", "Last", "Next"), passes, "The plan asks for no passes.");
  }

  /** A pass from before the shut-in supports nothing about after it. */
  private String late(PassIndicator p) {
    return parts.picture().shutInMs().filter(at -> p.atMs() < at).isPresent()
        ? " (before the shut-in: no information about after it)"
        : "";
  }
}

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
      html.lead(
          "%s: %s, entered by %s, entry %s of the record. Evidence at that time:"
              .formatted(when(d.path("at").asText()), d.path("choice").asText(), e.by(), e.seq()));
      evidence(html, d.path("evidence").path("rows"));
      costs(html, d.path("evidence").path("costs"));
      if (d.has("leaving")) {
        leaving(html, d.path("leaving"));
      }
    }
  }

  /** What it would have cost to be wrong, as the deciders had it; older entries have none. */
  private static void costs(Html html, JsonNode table) {
    List<List<String>> rows = new ArrayList<>();
    for (JsonNode r : table) {
      rows.add(
          List.of(
              r.path("explanation").asText() + ", " + r.path("error").asText(),
              r.path("cost").asText(),
              r.path("assumes").asText()));
    }
    if (!rows.isEmpty()) {
      html.lead("What it costs to be wrong, as it stood at that time:");
      html.table(List.of("If it is", "That costs", "Assumed"), rows, "");
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

  private static void evidence(Html html, JsonNode table) {
    List<List<String>> rows = new ArrayList<>();
    for (JsonNode r : table) {
      rows.add(
          List.of(
              r.path("sense").asText(),
              supported(r),
              r.path("says").asText(),
              r.has("age_s") ? Words.span(r.path("age_s").asDouble()) : ""));
    }
    html.table(List.of("Sense", "Supports", "What it said", "Age"), rows, "Nothing was kept.");
  }

  private String when(String at) {
    OptionalLong ms = Words.ms(at);
    return ms.isPresent() ? parts.time(ms.getAsLong()) : at;
  }

  /** What a row supported, in the words of the page. */
  private static String supported(JsonNode row) {
    String supports = row.path("supports").asText();
    return supports.equals("nothing") ? "no information" : supports;
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
      rows.add(List.of(Long.toString(e.seq()), parts.entered(e), e.what(), e.by(), inWords(e)));
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

package stillwatch.rules.finding;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.book.RuleMeaning;

/**
 * Findings and progress as JSON: one line of {@code replay --format ndjson} and the value on the
 * alerts topic. Times are RFC 3339 in UTC with milliseconds. The same finding always gives the same
 * bytes. Safe from any thread.
 */
public final class FindingCodec {
  /** The format header of findings on the alerts topic. */
  public static final String FORMAT = "finding-json/1";

  private static final JsonFactory JSON = new JsonFactory();
  private static final ObjectMapper MAPPER = new ObjectMapper();
  private static final DateTimeFormatter TIME =
      DateTimeFormatter.ofPattern("yyyy-MM-dd'T'HH:mm:ss.SSS'Z'", Locale.ROOT)
          .withZone(ZoneOffset.UTC);

  private FindingCodec() {}

  private interface Writing {
    void to(JsonGenerator json) throws IOException;
  }

  /** A finding as one JSON object without a line end. */
  public static byte[] encode(Finding f) {
    return encode(f, "");
  }

  /**
   * The same, saying which recording it comes from.
   *
   * @param recording the recording's file name; empty when it comes from none
   */
  public static byte[] encode(Finding f, String recording) {
    return bytes(json -> write(f, recording, json));
  }

  private static byte[] bytes(Writing writing) {
    ByteArrayOutputStream out = new ByteArrayOutputStream(1024);
    try (JsonGenerator json = JSON.createGenerator(out)) {
      writing.to(json);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write JSON to memory", e);
    }
    return out.toByteArray();
  }

  private static void write(Finding f, String recording, JsonGenerator json) throws IOException {
    json.writeStartObject();
    json.writeStringField("event", f.returned() ? "returned" : "raised");
    json.writeStringField("id", f.id());
    json.writeStringField("rule", f.rule());
    meaning(f, json);
    if (!recording.isEmpty()) {
      json.writeStringField("recording", recording);
    }
    json.writeStringField("title", f.title());
    json.writeStringField("priority", f.priority().wire());
    json.writeStringField("well", f.well());
    list("gauges", f.gauges(), json);
    json.writeStringField("onset", time(f.onsetMs()));
    json.writeStringField("raised", time(f.raisedMs()));
    Long returned = f.returnedMs();
    if (returned != null) {
      json.writeStringField("returned", time(returned));
    }
    json.writeStringField("summary", f.summary());
    json.writeObjectFieldStart("limits");
    for (Map.Entry<String, String> e : f.limits().entrySet()) {
      json.writeStringField(e.getKey(), e.getValue());
    }
    json.writeEndObject();
    evidence(f.evidence(), json);
    json.writeStringField("phase", f.phase());
    json.writeStringField("advice", f.advice());
    json.writeStringField("rule_revision", f.ruleRevision());
    json.writeStringField("plan_revision", f.planRevision());
    json.writeStringField("book_revision", f.bookRevision());
    json.writeEndObject();
  }

  private static void meaning(Finding f, JsonGenerator json) throws IOException {
    json.writeStringField("about", f.about().wire());
    json.writeStringField("subject", f.subject());
    String change = f.change();
    if (change != null) {
      json.writeStringField("change", change);
    }
    String sense = f.meaning().sense();
    if (sense != null) {
      json.writeStringField("sense", sense);
    }
    if (f.meaning().excludes()) {
      json.writeBooleanField("excludes", true);
    }
    if (f.meaning().blinds()) {
      json.writeBooleanField("blinds", true);
    }
    if (!f.explains().isEmpty()) {
      list("explains", f.explains(), json);
    }
  }

  private static void list(String name, List<String> texts, JsonGenerator json) throws IOException {
    json.writeArrayFieldStart(name);
    for (String text : texts) {
      json.writeString(text);
    }
    json.writeEndArray();
  }

  private static void evidence(Evidence evidence, JsonGenerator json) throws IOException {
    json.writeObjectFieldStart("evidence");
    json.writeObjectFieldStart("indicator");
    for (Map.Entry<String, Double> e : evidence.indicator().entrySet()) {
      json.writeNumberField(e.getKey(), e.getValue());
    }
    json.writeEndObject();
    json.writeArrayFieldStart("trails");
    for (Evidence.Trail trail : evidence.trails()) {
      trail(trail, json);
    }
    json.writeEndArray();
    if (!evidence.hypotheses().isEmpty()) {
      json.writeObjectFieldStart("hypotheses");
      for (Hypothesis h : evidence.hypotheses()) {
        json.writeObjectFieldStart(h.cause().wire());
        list("for", h.pro(), json);
        list("against", h.con(), json);
        json.writeEndObject();
      }
      json.writeEndObject();
    }
    json.writeEndObject();
  }

  private static void trail(Evidence.Trail trail, JsonGenerator json) throws IOException {
    json.writeStartObject();
    json.writeStringField("gauge", trail.gauge());
    json.writeStringField("unit", trail.unit());
    json.writeArrayFieldStart("points");
    for (int i = 0; i < trail.atMs().size(); i++) {
      json.writeStartArray();
      json.writeString(time(trail.atMs().get(i)));
      json.writeNumber(trail.level().get(i));
      json.writeEndArray();
    }
    json.writeEndArray();
    json.writeEndObject();
  }

  /** Progress as one JSON object. */
  public static byte[] encode(Progress p) {
    return bytes(
        json -> {
          json.writeStartObject();
          json.writeStringField("well", p.well());
          json.writeStringField("log", time(p.logMs()));
          json.writeStringField("sent", time(p.sentMs()));
          json.writeEndObject();
        });
  }

  private static String time(long ms) {
    return TIME.format(Instant.ofEpochMilli(ms));
  }

  private static JsonNode read(byte[] bytes) {
    try {
      JsonNode node = MAPPER.readTree(bytes);
      if (node != null && node.isObject()) {
        return node;
      }
    } catch (IOException e) {
      throw new IllegalArgumentException("not readable as JSON", e);
    }
    throw new IllegalArgumentException("no JSON object");
  }

  /**
   * Reads a finding. One written before findings said what they are about is read as what the
   * shipped catalogue says of its rule, and as about the well where that knows the rule no more.
   *
   * @throws IllegalArgumentException when the bytes are none, naming what is wrong
   */
  public static Finding decode(byte[] bytes) {
    JsonNode n = read(bytes);
    Map<String, String> limits = new LinkedHashMap<>();
    n.path("limits").properties().forEach(e -> limits.put(e.getKey(), e.getValue().asText()));
    Map<String, Double> indicator = new LinkedHashMap<>();
    n.path("evidence")
        .path("indicator")
        .properties()
        .forEach(e -> indicator.put(e.getKey(), e.getValue().asDouble()));
    List<Evidence.Trail> trails = new ArrayList<>();
    for (JsonNode t : n.path("evidence").path("trails")) {
      List<Long> atMs = new ArrayList<>();
      List<Double> level = new ArrayList<>();
      for (JsonNode point : t.path("points")) {
        atMs.add(instant(point.path(0).asText(), "a trail's time"));
        level.add(point.path(1).asDouble());
      }
      trails.add(
          new Evidence.Trail(t.path("gauge").asText(), t.path("unit").asText(), atMs, level));
    }
    List<String> gauges = texts(n.path("gauges"));
    return new Finding(
        text(n, "id"),
        text(n, "rule"),
        n.has("about") ? meaning(n) : Shipped.meaning(text(n, "rule")),
        n.path("subject").asText(gauges.isEmpty() ? text(n, "well") : String.join("/", gauges)),
        n.hasNonNull("change") ? n.path("change").asText() : null,
        text(n, "rule_revision"),
        text(n, "title"),
        Priority.of(text(n, "priority")),
        text(n, "well"),
        gauges,
        instant(text(n, "onset"), "onset"),
        instant(text(n, "raised"), "raised"),
        n.hasNonNull("returned") ? Long.valueOf(instant(text(n, "returned"), "returned")) : null,
        text(n, "summary"),
        limits,
        new Evidence(indicator, trails, hypotheses(n.path("evidence").path("hypotheses"))),
        text(n, "phase"),
        text(n, "advice"),
        text(n, "plan_revision"),
        text(n, "book_revision"));
  }

  private static List<Hypothesis> hypotheses(JsonNode n) {
    List<Hypothesis> read = new ArrayList<>();
    for (Hypothesis.Cause cause : Hypothesis.Cause.values()) {
      JsonNode h = n.path(cause.wire());
      if (h.isObject()) {
        read.add(new Hypothesis(cause, texts(h.path("for")), texts(h.path("against"))));
      }
    }
    return read;
  }

  private static RuleMeaning meaning(JsonNode n) {
    String about = text(n, "about");
    return new RuleMeaning(
        RuleEntry.About.of(about)
            .orElseThrow(
                () -> new IllegalArgumentException("about is none of ours: '" + about + "'")),
        n.hasNonNull("sense") ? n.path("sense").asText() : null,
        n.path("excludes").asBoolean(),
        n.path("blinds").asBoolean(),
        texts(n.path("explains")));
  }

  private static List<String> texts(JsonNode array) {
    List<String> texts = new ArrayList<>();
    array.forEach(t -> texts.add(t.asText()));
    return texts;
  }

  /** Read only when a line of an earlier version is. */
  private static final class Shipped {
    private static final Catalogue CATALOGUE = Catalogue.shipped();

    private static RuleMeaning meaning(String rule) {
      return CATALOGUE
          .rule(rule)
          .map(RuleEntry::meaning)
          .orElseGet(() -> RuleMeaning.on(RuleEntry.About.WELL));
    }
  }

  /**
   * Reads progress.
   *
   * @throws IllegalArgumentException when the bytes are none
   */
  public static Progress decodeProgress(byte[] bytes) {
    JsonNode n = read(bytes);
    return new Progress(
        text(n, "well"), instant(text(n, "log"), "log"), instant(text(n, "sent"), "sent"));
  }

  private static String text(JsonNode n, String field) {
    if (!n.path(field).isTextual()) {
      throw new IllegalArgumentException("the field '" + field + "' is missing or no text");
    }
    return n.path(field).asText();
  }

  private static long instant(String text, String field) {
    try {
      return Instant.parse(text).toEpochMilli();
    } catch (DateTimeException e) {
      throw new IllegalArgumentException(field + " is no time: '" + text + "'", e);
    }
  }
}

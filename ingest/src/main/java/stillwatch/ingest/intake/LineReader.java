package stillwatch.ingest.intake;

import static stillwatch.ingest.intake.LineFields.brief;
import static stillwatch.ingest.intake.LineFields.onlyKnown;
import static stillwatch.ingest.intake.LineFields.span;
import static stillwatch.ingest.intake.LineFields.time;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.exc.StreamConstraintsException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.LongFunction;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.entrance.Limits;
import stillwatch.ingest.entrance.Texts;
import stillwatch.ingest.intake.Refusal.Reason;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.unit.UnitException;

/**
 * Reads one line of telemetry as its JSON Schema ({@code
 * stillwatch/intake/telemetry-line.schema.json}) describes it. Safe from any thread.
 */
final class LineReader {
  private static final Limits LIMITS = Limits.USUAL;
  private static final JsonMapper JSON =
      JsonMapper.builder(JsonFactory.builder().streamReadConstraints(LIMITS.json()).build())
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();
  private static final Set<String> FRAME = Set.of("well", "at", "values", "units", "qualities");
  private static final Set<String> READING =
      Set.of("well", "at", "gauge", "value", "unit", "quality");
  private final Map<String, IntakeWell> wells;

  /**
   * What a line said. Of readings that are refused for their time the entry tells the log only that
   * they came: no value, the quality bad; so whoever reads the log hears of the clock.
   *
   * @param well the well it names; empty when it names none that is known
   * @param entry makes the entry, given its time of reception; null when nothing is to be logged
   * @param taken whether the entry says what the line said, all or part of it
   * @param refused what could not be taken
   */
  record Line(
      String well, @Nullable LongFunction<Telemetry> entry, boolean taken, List<Refusal> refused) {
    static Line taken(String well, LongFunction<Telemetry> entry, List<Refusal> refused) {
      return new Line(well, entry, true, refused);
    }

    static Line refused(String well, List<Refusal> refused) {
      return new Line(well, null, false, refused);
    }
  }

  LineReader(Map<String, IntakeWell> wells) {
    this.wells = wells;
  }

  /**
   * Reads a line that came at this moment, ms since 1970 UTC.
   *
   * @param tells whether its sender may tell what people did, saw, decided and explained
   */
  Line read(byte[] line, long nowMs, boolean tells) {
    String id = "";
    try {
      JsonNode n = tree(line);
      IntakeWell well = well(n);
      id = well.id();
      long atMs = time(n, "at");
      boolean ahead = atMs - nowMs > well.ahead().toMillis();
      if (n.has("values")) {
        Line frame = frame(n, well, atMs);
        return ahead ? ahead(frame, well, atMs, nowMs) : frame;
      }
      if (n.has("gauge") && !n.has("operation")) {
        Line reading = reading(n, well, atMs);
        return ahead ? ahead(reading, well, atMs, nowMs) : reading;
      }
      if (!tells) {
        throw new RefusalException(
            Reason.NOT_ALLOWED,
            "this token is for readings; what was done, seen, decided or explained wants one with the right to operate");
      }
      LongFunction<Telemetry> event = EventReader.read(n, well, atMs);
      return ahead
          ? Line.refused(id, List.of(stampedAhead(well, atMs, nowMs)))
          : Line.taken(id, event, List.of());
    } catch (RefusalException e) {
      return Line.refused(id, List.of(e.refusal()));
    }
  }

  /** Readings stamped too far ahead: refused, and the log hears that they came. */
  private static Line ahead(Line read, IntakeWell well, long atMs, long nowMs) {
    List<Refusal> refused = new ArrayList<>(read.refused());
    refused.add(stampedAhead(well, atMs, nowMs));
    LongFunction<Telemetry> entry = read.entry();
    return entry == null
        ? Line.refused(well.id(), refused)
        : new Line(well.id(), at -> silenced((Frame) entry.apply(at)), false, refused);
  }

  private static Frame silenced(Frame frame) {
    double[] nothing = new double[frame.values().length];
    byte[] bad = new byte[nothing.length];
    Arrays.fill(nothing, Double.NaN);
    Arrays.fill(bad, Quality.BAD.code());
    return new Frame(frame.well(), frame.atMs(), frame.receivedMs(), frame.gauges(), nothing, bad);
  }

  private static Refusal stampedAhead(IntakeWell well, long atMs, long nowMs) {
    return Refusal.ofLine(
        Reason.STAMPED_AHEAD,
        "stamped "
            + span(atMs - nowMs)
            + " ahead of this machine's clock, which says "
            + Instant.ofEpochMilli(nowMs)
            + "; the plan takes at most "
            + span(well.ahead().toMillis())
            + ": set the clock that is wrong and send it again");
  }

  /** A line as JSON. */
  static JsonNode tree(byte[] line) throws RefusalException {
    try {
      StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(line)); // Jackson lets more pass
      JsonNode n = JSON.readTree(line);
      if (n == null || !n.isObject()) {
        throw new RefusalException(Reason.NOT_JSON, "a line must be one JSON object");
      }
      if (!Texts.sound(n)) {
        throw new RefusalException(
            Reason.NOT_TEXT,
            "a text holds half of a surrogate pair or the character NUL; leave it out");
      }
      return n;
    } catch (CharacterCodingException e) {
      throw new RefusalException(
          Reason.NOT_TEXT, "the line is not UTF-8; write it in that encoding");
    } catch (StreamConstraintsException e) {
      throw beyond(e);
    } catch (JsonProcessingException e) {
      throw new RefusalException(
          Reason.NOT_JSON,
          "not readable as JSON: "
              + String.valueOf(e.getOriginalMessage()).lines().findFirst().orElse(""));
    } catch (IOException e) {
      throw new RefusalException(Reason.NOT_JSON, "not readable as JSON");
    }
  }

  private static RefusalException beyond(StreamConstraintsException e) {
    return String.valueOf(e.getOriginalMessage()).contains("nesting")
        ? new RefusalException(
            Reason.TOO_DEEP,
            "more than " + LIMITS.nesting() + " objects and lists lie within each other")
        : new RefusalException(
            Reason.TOO_LONG,
            "a text is longer than "
                + LIMITS.textChars()
                + " characters, or a name or number too long; shorten it");
  }

  private IntakeWell well(JsonNode n) throws RefusalException {
    String id = n.path("well").asText("");
    IntakeWell well = wells.get(id);
    if (well == null) {
      throw id.isEmpty()
          ? new RefusalException(
              Reason.INCOMPLETE, "'well' is missing; name one of " + new TreeSet<>(wells.keySet()))
          : new RefusalException(
              Reason.UNKNOWN_WELL,
              "no plan knows the well '" + id + "'; known are " + new TreeSet<>(wells.keySet()));
    }
    return well;
  }

  private static Line frame(JsonNode n, IntakeWell well, long atMs) throws RefusalException {
    onlyKnown(n, FRAME, "a frame");
    JsonNode given = n.path("values");
    if (!given.isObject() || given.isEmpty()) {
      throw new RefusalException(
          Reason.INCOMPLETE, "'values' must be an object of gauge to value, with at least one");
    }
    return readings(given, byGauge(n, "units"), byGauge(n, "qualities"), well, atMs);
  }

  private static JsonNode byGauge(JsonNode n, String key) throws RefusalException {
    if (n.has(key) && !n.path(key).isObject()) {
      throw new RefusalException(
          Reason.BAD_VALUE,
          "'" + key + "' must be an object of gauge to text, not " + brief(n.path(key)));
    }
    return n.path(key);
  }

  private static Line reading(JsonNode n, IntakeWell well, long atMs) throws RefusalException {
    onlyKnown(n, READING, "a reading");
    if (!n.path("gauge").isTextual() || !n.has("value")) {
      throw new RefusalException(Reason.INCOMPLETE, "a reading needs 'gauge' and 'value'");
    }
    String gauge = n.path("gauge").asText();
    JsonNode values = JSON.createObjectNode().set(gauge, n.path("value"));
    JsonNode units =
        n.has("unit")
            ? JSON.createObjectNode().set(gauge, n.path("unit"))
            : JSON.createObjectNode();
    JsonNode qualities =
        n.has("quality")
            ? JSON.createObjectNode().set(gauge, n.path("quality"))
            : JSON.createObjectNode();
    return readings(values, units, qualities, well, atMs);
  }

  private static Line readings(
      JsonNode values, JsonNode units, JsonNode qualities, IntakeWell well, long atMs) {
    List<String> ids = new ArrayList<>();
    double[] taken = new double[values.size()];
    byte[] codes = new byte[values.size()];
    List<Refusal> refused = new ArrayList<>();
    for (Map.Entry<String, JsonNode> field : values.properties()) {
      String gauge = field.getKey();
      try {
        Quality quality = quality(qualities.path(gauge));
        if (!field.getValue().isNull() || quality != Quality.GOOD) {
          taken[ids.size()] = value(field.getValue(), gauge, units.path(gauge), well);
          codes[ids.size()] = quality.code();
          ids.add(gauge);
        }
      } catch (RefusalException e) {
        refused.add(new Refusal(e.refusal().reason(), gauge, e.refusal().why()));
      }
    }
    if (ids.isEmpty()) {
      return Line.refused(
          well.id(),
          refused.isEmpty()
              ? List.of(Refusal.ofLine(Reason.INCOMPLETE, "no gauge says anything"))
              : refused);
    }
    GaugeSet set = GaugeSet.of(ids);
    double[] base = Arrays.copyOf(taken, ids.size());
    byte[] code = Arrays.copyOf(codes, ids.size());
    return Line.taken(
        well.id(), receivedMs -> new Frame(well.id(), atMs, receivedMs, set, base, code), refused);
  }

  private static void mustBeFinite(JsonNode value, String id) throws RefusalException {
    if (!value.isNumber() || !Double.isFinite(value.doubleValue())) {
      throw new RefusalException(
          Reason.BAD_VALUE,
          "the value of " + id + " must be a finite number or null, not " + brief(value));
    }
  }

  private static String unit(JsonNode unit, String id) throws RefusalException {
    if (!unit.isMissingNode() && !unit.isTextual()) {
      throw new RefusalException(
          Reason.UNKNOWN_UNIT, "the unit of " + id + " must be a UCUM code in quotes");
    }
    return unit.asText("");
  }

  private static double value(JsonNode value, String id, JsonNode unit, IntakeWell well)
      throws RefusalException {
    IntakeWell.Gauge gauge = well.gauges().get(id);
    if (gauge == null) {
      throw well.lacks(id);
    }
    if (value.isNull()) {
      return Double.NaN;
    }
    mustBeFinite(value, id);
    try {
      return gauge.conversion(unit(unit, id)).toBase(value.doubleValue());
    } catch (UnitException e) {
      throw new RefusalException(Reason.UNKNOWN_UNIT, String.valueOf(e.getMessage()));
    }
  }

  private static Quality quality(JsonNode n) throws RefusalException {
    if (n.isMissingNode()) {
      return Quality.GOOD;
    }
    for (Quality q : Quality.values()) {
      if (q.name().toLowerCase(Locale.ROOT).equals(n.asText())) {
        return q;
      }
    }
    throw new RefusalException(
        Reason.BAD_VALUE, "the quality " + brief(n) + " is not known; use good, uncertain or bad");
  }
}

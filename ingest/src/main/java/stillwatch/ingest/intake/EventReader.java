package stillwatch.ingest.intake;

import static stillwatch.ingest.intake.LineFields.brief;
import static stillwatch.ingest.intake.LineFields.onlyKnown;
import static stillwatch.ingest.intake.LineFields.time;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Optional;
import java.util.Set;
import java.util.function.LongFunction;
import stillwatch.ingest.intake.Refusal.Reason;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;

/**
 * Reads the lines that tell what people did, saw, decided, explained, surveyed and said of leaving.
 * Stateless; safe from any thread.
 */
final class EventReader {
  private static final Set<String> OPERATION =
      Set.of("well", "at", "operation", "gauge", "text", "by");
  private static final Set<String> OBSERVATION =
      Set.of("well", "at", "observation", "means", "text", "by");
  private static final Set<String> DECISION =
      Set.of("well", "at", "decision", "by", "why", "next_review", "changes");
  private static final Set<String> EXPLANATION =
      Set.of("well", "at", "explanation", "change", "by", "why");

  private static final Set<String> ATTENDANCE = Set.of("well", "at", "attendance", "by", "links");
  private static final Set<String> WEATHER =
      Set.of("well", "at", "weather", "from", "to", "by", "text");
  private static final Set<String> PLACE = Set.of("kind", "east", "north", "size", "uncertainty");
  private static final Set<String> SURVEY =
      Set.of(
          "well",
          "at",
          "survey",
          "means",
          "pass",
          "name",
          "kind",
          "east",
          "north",
          "size",
          "uncertainty",
          "text",
          "by");

  private EventReader() {}

  /** Makes the entry, given its time of reception. */
  static LongFunction<Telemetry> read(JsonNode n, IntakeWell well, long atMs)
      throws RefusalException {
    if (n.has("operation")) {
      return operation(n, well, atMs);
    }
    if (n.has("observation")) {
      return observation(n, well, atMs);
    }
    if (n.has("decision")) {
      return decision(n, well, atMs);
    }
    if (n.has("explanation")) {
      return explanation(n, well, atMs);
    }
    if (n.has("attendance")) {
      return attendance(n, well, atMs);
    }
    if (n.has("weather")) {
      return weather(n, well, atMs);
    }
    if (n.has("survey")) {
      return survey(n, well, atMs);
    }
    throw new RefusalException(
        Reason.INCOMPLETE,
        "a line needs 'values', or 'gauge' and 'value', or 'operation', 'observation', 'decision', 'explanation', 'attendance', 'weather' or 'survey'");
  }

  private static LongFunction<Telemetry> operation(JsonNode n, IntakeWell well, long atMs)
      throws RefusalException {
    onlyKnown(n, OPERATION, "an operation");
    String gauge = text(n, "gauge");
    if (n.has("gauge") && gauge.isBlank()) {
      throw new RefusalException(
          Reason.INCOMPLETE, "'gauge' is empty; name the gauge that was worked on or leave it out");
    }
    String what = text(n, "operation");
    String text = text(n, "text");
    String by = text(n, "by");
    LongFunction<Telemetry> making =
        checked(
            atMs,
            receivedMs ->
                new Operation(
                    well.id(), atMs, receivedMs, Operation.What.of(what), gauge, text, by));
    if (!gauge.isEmpty() && !well.gauges().containsKey(gauge)) {
      throw well.lacks(gauge);
    }
    return making;
  }

  private static LongFunction<Telemetry> observation(JsonNode n, IntakeWell well, long atMs)
      throws RefusalException {
    onlyKnown(n, OBSERVATION, "an observation");
    Observation.Result result = result(text(n, "observation"));
    String means = text(n, "means");
    if (means.isEmpty()) {
      throw new RefusalException(
          Reason.INCOMPLETE, "an observation needs 'means', for example camera, sonar or seismic");
    }
    String text = text(n, "text");
    String by = text(n, "by");
    return receivedMs -> new Observation(well.id(), atMs, receivedMs, means, result, text, by);
  }

  private static Observation.Result result(String wire) throws RefusalException {
    for (Observation.Result r : Observation.Result.values()) {
      if (r.wire().equals(wire)) {
        return r;
      }
    }
    throw new RefusalException(
        Reason.BAD_VALUE,
        "the observation '" + wire + "' is not known; use clear, adverse or inconclusive");
  }

  private static LongFunction<Telemetry> decision(JsonNode n, IntakeWell well, long atMs)
      throws RefusalException {
    onlyKnown(n, DECISION, "a decision");
    Decision.Choice choice;
    try {
      choice = Decision.Choice.of(text(n, "decision"));
    } catch (IllegalArgumentException e) {
      throw new RefusalException(Reason.BAD_VALUE, String.valueOf(e.getMessage()));
    }
    String by = text(n, "by");
    String why = text(n, "why");
    if (by.isBlank() || why.isBlank()) {
      throw new RefusalException(Reason.INCOMPLETE, "a decision needs 'by' and 'why'");
    }
    String changes = text(n, "changes");
    if ((choice == Decision.Choice.CYCLE) == changes.isBlank()) {
      throw new RefusalException(
          Reason.INCOMPLETE,
          "'changes' says what another cycle does otherwise: the decision cycle needs it, no other has it");
    }
    long nextReviewMs = n.has("next_review") ? time(n, "next_review") : 0;
    return receivedMs ->
        new Decision(well.id(), atMs, receivedMs, choice, by, why, nextReviewMs, changes);
  }

  private static LongFunction<Telemetry> explanation(JsonNode n, IntakeWell well, long atMs)
      throws RefusalException {
    onlyKnown(n, EXPLANATION, "an explanation");
    String cause = text(n, "explanation");
    String change = text(n, "change");
    String why = text(n, "why");
    String by = text(n, "by");
    return checked(
        atMs,
        receivedMs ->
            new Explanation(
                well.id(), atMs, receivedMs, change, Explanation.Cause.of(cause), why, by));
  }

  private static LongFunction<Telemetry> attendance(JsonNode n, IntakeWell well, long atMs)
      throws RefusalException {
    onlyKnown(n, ATTENDANCE, "an attendance");
    String from = text(n, "attendance");
    String by = text(n, "by");
    String links = text(n, "links");
    return checked(
        atMs,
        receivedMs ->
            new Attendance(well.id(), atMs, receivedMs, Attendance.From.of(from), by, links));
  }

  private static LongFunction<Telemetry> weather(JsonNode n, IntakeWell well, long atMs)
      throws RefusalException {
    onlyKnown(n, WEATHER, "a forecast of weather");
    long fromMs = time(n, "from");
    long toMs = time(n, "to");
    String by = text(n, "by");
    String text = text(n, "text");
    String sure = text(n, "weather");
    return checked(
        atMs,
        receivedMs ->
            new WeatherForecast(
                well.id(),
                atMs,
                receivedMs,
                WeatherForecast.Certainty.of(sure),
                fromMs,
                toMs,
                by,
                text));
  }

  private static LongFunction<Telemetry> survey(JsonNode n, IntakeWell well, long atMs)
      throws RefusalException {
    onlyKnown(n, SURVEY, "a line of a survey");
    String means = text(n, "means");
    String pass = text(n, "pass");
    String what = text(n, "survey");
    String name = text(n, "name");
    boolean placed = PLACE.stream().anyMatch(n::has);
    String kind = text(n, "kind");
    onlyMetres(n);
    String text = text(n, "text");
    String by = text(n, "by");
    return checked(
        atMs,
        receivedMs ->
            new SurveyItem(
                well.id(),
                atMs,
                receivedMs,
                means,
                pass,
                SurveyItem.What.of(what),
                name,
                placed ? Optional.of(shape(kind, n)) : Optional.empty(),
                text,
                by));
  }

  private static void onlyMetres(JsonNode n) throws RefusalException {
    for (String key : PLACE) {
      if (!key.equals("kind") && n.has(key) && !n.path(key).isNumber()) {
        throw new RefusalException(
            Reason.BAD_VALUE,
            "'" + key + "' must be a number of metres, not " + brief(n.path(key)));
      }
    }
  }

  private static SurveyItem.Shape shape(String kind, JsonNode n) {
    return new SurveyItem.Shape(
        kind,
        n.path("east").asDouble(Double.NaN),
        n.path("north").asDouble(Double.NaN),
        n.path("size").asDouble(Double.NaN),
        n.path("uncertainty").asDouble(Double.NaN));
  }

  /** What makes an entry at a time of reception, once it has been seen that it can. */
  private static LongFunction<Telemetry> checked(long atMs, LongFunction<Telemetry> making)
      throws RefusalException {
    try {
      var unused = making.apply(atMs);
      return making;
    } catch (IllegalArgumentException e) {
      throw new RefusalException(Reason.BAD_VALUE, String.valueOf(e.getMessage()));
    }
  }

  private static String text(JsonNode n, String key) throws RefusalException {
    if (n.has(key) && !n.path(key).isTextual()) {
      throw new RefusalException(
          Reason.BAD_VALUE, "'" + key + "' must be a text in quotes, not " + brief(n.path(key)));
    }
    return n.path(key).asText("");
  }
}

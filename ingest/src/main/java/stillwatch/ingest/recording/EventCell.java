package stillwatch.ingest.recording;

import java.time.DateTimeException;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;

/**
 * What people did, saw, decided or explained, as a recording's operation column tells it: {@code
 * kind: text} for an operation, {@code kind: gauge; text} for work on a gauge, {@code observation:
 * means; result; by; text}, {@code decision: choice; by; why; changes}, {@code explanation: change;
 * cause; by; why}, {@code attendance: shore; by; links}, {@code weather: likely; from; to; by;
 * text}, {@code survey: means; pass; seen; name; kind; east; north; size; uncertainty; by; text},
 * {@code survey: means; pass; gone; name; by; text}, {@code survey: means; pass; nothing; by;
 * text}.
 */
public final class EventCell {
  private EventCell() {}

  /**
   * Reads a cell.
   *
   * @throws IllegalArgumentException when it cannot be, saying why
   */
  public static Telemetry read(String cell, String well, long atMs, long receivedMs) {
    int colon = cell.indexOf(':');
    String kind = (colon < 0 ? cell : cell.substring(0, colon)).strip();
    String text = colon < 0 ? "" : cell.substring(colon + 1).strip();
    List<String> parts = Arrays.stream(text.split(";", -1)).map(String::strip).toList();
    return switch (kind) {
      case "observation" -> observation(cell, parts, well, atMs, receivedMs);
      case "decision" -> decision(text, well, atMs, receivedMs);
      case "explanation" -> explanation(cell, text, well, atMs, receivedMs);
      case "attendance" -> attendance(text, well, atMs, receivedMs);
      case "weather" -> weather(cell, text, well, atMs, receivedMs);
      case "survey" -> survey(cell, text, well, atMs, receivedMs);
      default -> operation(Operation.What.of(kind), text, well, atMs, receivedMs);
    };
  }

  private static Observation observation(
      String cell, List<String> parts, String well, long atMs, long receivedMs) {
    if (parts.size() < 2 || parts.get(0).isEmpty()) {
      throw new IllegalArgumentException(
          "'" + cell + "' must look like 'observation: camera; clear; by; text'");
    }
    Observation.Result result = oneOf(Observation.Result.class, parts.get(1));
    return new Observation(
        well, atMs, receivedMs, parts.get(0), result, part(parts, 3), part(parts, 2));
  }

  private static Decision decision(String text, String well, long atMs, long receivedMs) {
    Decision.Choice choice = Decision.Choice.of(text.split(";", 2)[0].strip());
    int most = choice == Decision.Choice.CYCLE ? 4 : 3; // the last keeps its semicolons
    List<String> parts = Arrays.stream(text.split(";", most)).map(String::strip).toList();
    return new Decision(
        well, atMs, receivedMs, choice, part(parts, 1), part(parts, 2), 0, part(parts, 3));
  }

  private static Explanation explanation(
      String cell, String text, String well, long atMs, long receivedMs) {
    List<String> parts = Arrays.stream(text.split(";", 4)).map(String::strip).toList();
    if (parts.size() < 4) {
      throw new IllegalArgumentException(
          "'" + cell + "' must look like 'explanation: 0123456789ab; gauge; by; why'");
    }
    Explanation.Cause cause = Explanation.Cause.of(parts.get(1));
    return new Explanation(well, atMs, receivedMs, parts.get(0), cause, parts.get(3), parts.get(2));
  }

  private static Attendance attendance(String text, String well, long atMs, long receivedMs) {
    List<String> parts = Arrays.stream(text.split(";", 3)).map(String::strip).toList();
    Attendance.From from = Attendance.From.of(parts.get(0));
    return new Attendance(well, atMs, receivedMs, from, part(parts, 1), part(parts, 2));
  }

  private static WeatherForecast weather(
      String cell, String text, String well, long atMs, long receivedMs) {
    List<String> parts = Arrays.stream(text.split(";", 5)).map(String::strip).toList();
    try {
      return new WeatherForecast(
          well,
          atMs,
          receivedMs,
          WeatherForecast.Certainty.of(parts.get(0)),
          Instant.parse(part(parts, 1)).toEpochMilli(),
          Instant.parse(part(parts, 2)).toEpochMilli(),
          part(parts, 3),
          part(parts, 4));
    } catch (DateTimeException | ArithmeticException e) {
      throw new IllegalArgumentException(
          "'"
              + cell
              + "' must look like 'weather: likely; 2026-03-08T18:00:00Z; 2026-03-09T10:00:00Z; by; text'",
          e);
    }
  }

  private static SurveyItem survey(
      String cell, String text, String well, long atMs, long receivedMs) {
    String[] head = text.split(";", 4);
    String means = head[0].strip();
    String pass = head.length > 1 ? head[1].strip() : "";
    SurveyItem.What what = SurveyItem.What.of(head.length > 2 ? head[2].strip() : "");
    int named = what == SurveyItem.What.NOTHING ? 0 : 1;
    int shaped = what == SurveyItem.What.SEEN ? 5 : 0;
    List<String> parts =
        Arrays.stream((head.length > 3 ? head[3] : "").split(";", named + shaped + 2))
            .map(String::strip)
            .toList();
    try {
      Optional<SurveyItem.Shape> shape =
          shaped == 0
              ? Optional.empty()
              : Optional.of(
                  new SurveyItem.Shape(
                      part(parts, 1),
                      Double.parseDouble(part(parts, 2)),
                      Double.parseDouble(part(parts, 3)),
                      metres(part(parts, 4)),
                      metres(part(parts, 5))));
      String name = named == 0 ? "" : parts.get(0);
      String by = part(parts, named + shaped);
      String remark = part(parts, named + shaped + 1);
      return new SurveyItem(well, atMs, receivedMs, means, pass, what, name, shape, remark, by);
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException(
          "'"
              + cell
              + "' must look like 'survey: camera; dive 12; seen; seep 2; bubbles; 12.5; -3; 0.4; 0.1; by; text'",
          e);
    }
  }

  private static double metres(String text) {
    return text.isEmpty() ? Double.NaN : Double.parseDouble(text);
  }

  private static Operation operation(
      Operation.What what, String text, String well, long atMs, long receivedMs) {
    if (!what.gaugeWork()) {
      return new Operation(well, atMs, receivedMs, what, text, "");
    }
    List<String> parts = Arrays.stream(text.split(";", 2)).map(String::strip).toList();
    return new Operation(well, atMs, receivedMs, what, parts.get(0), part(parts, 1), "");
  }

  private static String part(List<String> parts, int i) {
    return i < parts.size() ? parts.get(i) : "";
  }

  private static <E extends Enum<E>> E oneOf(Class<E> type, String name) {
    for (E e : type.getEnumConstants()) {
      if (e.name().toLowerCase(Locale.ROOT).equals(name)) {
        return e;
      }
    }
    throw new IllegalArgumentException(
        "'"
            + name
            + "' is not one of "
            + Arrays.stream(type.getEnumConstants())
                .map(e -> e.name().toLowerCase(Locale.ROOT))
                .collect(Collectors.joining(", ")));
  }
}

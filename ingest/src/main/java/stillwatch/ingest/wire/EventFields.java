package stillwatch.ingest.wire;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;

/**
 * The fields of what people did, saw, decided, explained, surveyed and said of leaving, in a
 * message. Stateless; safe from any thread.
 */
final class EventFields {
  private EventFields() {}

  /** Writes the fields; nothing for frames and pulses. */
  static void write(Telemetry entry, JsonGenerator g) throws IOException {
    if (entry instanceof Operation o) {
      g.writeStringField("operation", o.what().wire());
      if (!o.gauge().isEmpty()) {
        g.writeStringField("gauge", o.gauge());
      }
      g.writeStringField("text", o.text());
      g.writeStringField("by", o.by());
    } else if (entry instanceof Observation o) {
      g.writeStringField("observation", o.result().wire());
      g.writeStringField("means", o.means());
      g.writeStringField("text", o.text());
      g.writeStringField("by", o.by());
    } else if (entry instanceof Decision d) {
      g.writeStringField("decision", d.choice().wire());
      g.writeStringField("by", d.by());
      g.writeStringField("why", d.why());
      g.writeNumberField("review", d.nextReviewMs());
      if (!d.changes().isEmpty()) {
        g.writeStringField("changes", d.changes());
      }
    } else if (entry instanceof Explanation e) {
      g.writeStringField("explanation", e.cause().wire());
      g.writeStringField("change", e.change());
      g.writeStringField("by", e.by());
      g.writeStringField("why", e.why());
    } else if (entry instanceof Attendance a) {
      g.writeStringField("attendance", a.from().wire());
      g.writeStringField("by", a.by());
      g.writeStringField("links", a.links());
    } else if (entry instanceof WeatherForecast f) {
      g.writeStringField("weather", f.certainty().wire());
      g.writeNumberField("from", f.fromMs());
      g.writeNumberField("to", f.toMs());
      g.writeStringField("by", f.by());
      g.writeStringField("text", f.text());
    } else if (entry instanceof SurveyItem s) {
      survey(s, g);
    }
  }

  private static void survey(SurveyItem s, JsonGenerator g) throws IOException {
    g.writeStringField("survey", s.what().wire());
    g.writeStringField("means", s.means());
    g.writeStringField("pass", s.pass());
    g.writeStringField("name", s.name());
    if (s.at().isPresent()) {
      SurveyItem.Shape at = s.at().get();
      g.writeStringField("kind", at.kind());
      g.writeNumberField("east", at.eastM());
      g.writeNumberField("north", at.northM());
      if (!Double.isNaN(at.sizeM())) {
        g.writeNumberField("size", at.sizeM());
      }
      if (!Double.isNaN(at.uncertaintyM())) {
        g.writeNumberField("uncertainty", at.uncertaintyM());
      }
    }
    g.writeStringField("text", s.text());
    g.writeStringField("by", s.by());
  }

  /**
   * The entry that these fields make.
   *
   * @throws IllegalArgumentException when a field holds what it cannot
   * @throws TelemetryFormatException when they make none
   */
  static Telemetry read(String well, long at, long received, Map<String, String> t) {
    String text = t.getOrDefault("text", "");
    String by = t.getOrDefault("by", "");
    String why = t.getOrDefault("why", "");
    String operation = t.get("operation");
    if (operation != null) {
      Operation.What what = Operation.What.of(operation);
      return new Operation(well, at, received, what, t.getOrDefault("gauge", ""), text, by);
    }
    String observation = t.get("observation");
    if (observation != null) {
      Observation.Result result = Observation.Result.valueOf(observation.toUpperCase(Locale.ROOT));
      return new Observation(well, at, received, t.getOrDefault("means", ""), result, text, by);
    }
    String decision = t.get("decision");
    if (decision != null) {
      Decision.Choice choice = Decision.Choice.of(decision);
      long reviewMs = Long.parseLong(t.getOrDefault("review", "0"));
      String changes = t.getOrDefault("changes", "");
      return new Decision(well, at, received, choice, by, why, reviewMs, changes);
    }
    String explanation = t.get("explanation");
    if (explanation != null) {
      Explanation.Cause cause = Explanation.Cause.of(explanation);
      return new Explanation(well, at, received, t.getOrDefault("change", ""), cause, why, by);
    }
    return leaving(well, at, received, t);
  }

  private static Telemetry leaving(String well, long at, long received, Map<String, String> t) {
    String by = t.getOrDefault("by", "");
    String attendance = t.get("attendance");
    if (attendance != null) {
      Attendance.From from = Attendance.From.of(attendance);
      return new Attendance(well, at, received, from, by, t.getOrDefault("links", ""));
    }
    String weather = t.get("weather");
    if (weather != null) {
      return new WeatherForecast(
          well,
          at,
          received,
          WeatherForecast.Certainty.of(weather),
          Long.parseLong(t.getOrDefault("from", "0")),
          Long.parseLong(t.getOrDefault("to", "0")),
          by,
          t.getOrDefault("text", ""));
    }
    String survey = t.get("survey");
    if (survey != null) {
      return survey(well, at, received, SurveyItem.What.of(survey), t);
    }
    throw new TelemetryFormatException(
        "the message is no frame, pulse, operation, observation, decision, explanation, attendance, weather or survey");
  }

  private static SurveyItem survey(
      String well, long at, long received, SurveyItem.What what, Map<String, String> t) {
    return new SurveyItem(
        well,
        at,
        received,
        t.getOrDefault("means", ""),
        t.getOrDefault("pass", ""),
        what,
        t.getOrDefault("name", ""),
        what == SurveyItem.What.SEEN
            ? Optional.of(
                new SurveyItem.Shape(
                    t.getOrDefault("kind", ""),
                    number(t, "east"),
                    number(t, "north"),
                    number(t, "size"),
                    number(t, "uncertainty")))
            : Optional.empty(),
        t.getOrDefault("text", ""),
        t.getOrDefault("by", ""));
  }

  private static double number(Map<String, String> t, String field) {
    return Double.parseDouble(t.getOrDefault(field, "NaN"));
  }
}

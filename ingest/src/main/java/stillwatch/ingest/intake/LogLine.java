package stillwatch.ingest.intake;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.util.Locale;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;

/**
 * Writes an entry of the log as a line that {@code POST /telemetry} takes, and {@link
 * LinesRecording} reads, with the time at which it was received. Of a pulse that time is all there
 * is. Stateless; safe from any thread.
 */
public final class LogLine {
  private static final ObjectMapper JSON = new ObjectMapper();

  private LogLine() {}

  /**
   * The line, without its end.
   *
   * @param well whose log it is: its gauges' kinds say the units
   */
  public static String of(Telemetry entry, IntakeWell well) {
    ObjectNode n = JSON.createObjectNode().put("well", entry.well());
    if (!(entry instanceof Pulse)) {
      n.put("at", Instant.ofEpochMilli(entry.atMs()).toString());
    }
    n.put("received", Instant.ofEpochMilli(entry.receivedMs()).toString());
    if (entry instanceof Frame f) {
      frame(f, well, n);
    } else if (entry instanceof Operation o) {
      n.put("operation", o.what().wire());
      if (!o.gauge().isEmpty()) {
        n.put("gauge", o.gauge());
      }
      n.put("text", o.text()).put("by", o.by());
    } else if (entry instanceof Observation o) {
      n.put("observation", o.result().wire()).put("means", o.means());
      n.put("text", o.text()).put("by", o.by());
    } else if (entry instanceof Decision d) {
      n.put("decision", d.choice().wire()).put("by", d.by()).put("why", d.why());
      if (d.nextReviewMs() > 0) {
        n.put("next_review", Instant.ofEpochMilli(d.nextReviewMs()).toString());
      }
      if (!d.changes().isEmpty()) {
        n.put("changes", d.changes());
      }
    } else if (entry instanceof Explanation e) {
      n.put("explanation", e.cause().wire()).put("change", e.change());
      n.put("by", e.by()).put("why", e.why());
    } else if (entry instanceof Attendance a) {
      n.put("attendance", a.from().wire()).put("by", a.by());
      if (!a.links().isEmpty()) {
        n.put("links", a.links());
      }
    } else if (entry instanceof WeatherForecast w) {
      n.put("weather", w.certainty().wire()).put("by", w.by()).put("text", w.text());
      n.put("from", Instant.ofEpochMilli(w.fromMs()).toString());
      n.put("to", Instant.ofEpochMilli(w.toMs()).toString());
    } else if (entry instanceof SurveyItem s) {
      survey(s, n);
    }
    try {
      return JSON.writeValueAsString(n);
    } catch (JsonProcessingException e) {
      throw new UncheckedIOException("cannot write JSON to memory", e);
    }
  }

  private static void survey(SurveyItem s, ObjectNode n) {
    n.put("survey", s.what().wire()).put("means", s.means()).put("pass", s.pass());
    if (!s.name().isEmpty()) {
      n.put("name", s.name());
    }
    s.at()
        .ifPresent(
            at -> {
              n.put("kind", at.kind()).put("east", at.eastM()).put("north", at.northM());
              if (!Double.isNaN(at.sizeM())) {
                n.put("size", at.sizeM());
              }
              if (!Double.isNaN(at.uncertaintyM())) {
                n.put("uncertainty", at.uncertaintyM());
              }
            });
    n.put("text", s.text()).put("by", s.by());
  }

  private static void frame(Frame f, IntakeWell well, ObjectNode n) {
    ObjectNode values = n.putObject("values");
    ObjectNode units = JSON.createObjectNode();
    ObjectNode qualities = JSON.createObjectNode();
    for (int i = 0; i < f.gauges().size(); i++) {
      String gauge = f.gauges().ids().get(i);
      double value = f.values()[i];
      Quality quality = Quality.of(f.qualities()[i]);
      if (Double.isNaN(value) && quality == Quality.GOOD) {
        continue;
      }
      values.put(gauge, Double.isNaN(value) ? null : (Double) value);
      IntakeWell.Gauge known = well.gauges().get(gauge);
      if (known != null) {
        units.put(gauge, known.kind().baseUnit());
      }
      if (quality != Quality.GOOD) {
        qualities.put(gauge, quality.name().toLowerCase(Locale.ROOT));
      }
    }
    n.set("units", units);
    if (!qualities.isEmpty()) {
      n.set("qualities", qualities);
    }
  }
}

package stillwatch.alerts.series;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.leaving.Absence;
import stillwatch.rules.leaving.Leaving;
import stillwatch.rules.leaving.LeavingWords;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.Pressures;
import stillwatch.rules.survey.SeabedWords;

/** What happened while the well was watched from shore, in the words that page and report share. */
public final class Meanwhile {
  private Meanwhile() {}

  /**
   * Something that happened.
   *
   * @param atMs when, log time, ms since 1970 UTC
   * @param text one sentence
   */
  public record Row(long atMs, String text) {}

  /**
   * All of it in the order of time.
   *
   * @param findings what the rules found, at whatever time
   */
  public static List<Row> of(Absence absence, List<Finding> findings) {
    long fromMs = absence.fromMs();
    long toMs = absence.toMs().orElse(Long.MAX_VALUE);
    List<Row> rows = new ArrayList<>();
    rows.add(new Row(fromMs, LeavingWords.of(absence.left()) + "."));
    absence.entries().forEach(e -> rows.add(new Row(Leaving.saidMs(e), words(e))));
    for (Finding f : findings) {
      String alarm = f.priority().wire().toUpperCase(Locale.ROOT) + " " + f.title();
      if (f.raisedMs() >= fromMs && f.raisedMs() <= toMs) {
        rows.add(new Row(f.raisedMs(), "Alarm raised: " + alarm + "."));
      }
      Long overMs = f.returnedMs();
      if (overMs != null && overMs >= fromMs && overMs <= toMs) {
        rows.add(new Row(overMs, "Alarm returned to normal: " + alarm + "."));
      }
    }
    absence.back().ifPresent(b -> rows.add(new Row(Leaving.saidMs(b), LeavingWords.of(b) + ".")));
    rows.sort(Comparator.comparingLong(Row::atMs));
    return rows;
  }

  private static String words(Telemetry entry) {
    if (entry instanceof Operation o) {
      return "Operation: "
          + o.what().wire()
          + (o.gauge().isEmpty() ? "" : " " + o.gauge())
          + ": "
          + o.text()
          + by(o.by());
    }
    if (entry instanceof Observation o) {
      return "Observation: " + o.means() + ", " + o.result().wire() + ": " + o.text() + by(o.by());
    }
    if (entry instanceof Decision d) {
      return "Decision: " + d.choice().wire() + ": " + d.why() + by(d.by());
    }
    if (entry instanceof Explanation e) {
      return "Change "
          + e.change()
          + " explained: "
          + e.cause().wire()
          + ": "
          + e.why()
          + by(e.by());
    }
    if (entry instanceof SurveyItem s) {
      return SeabedWords.of(s) + by(s.by());
    }
    if (entry instanceof WeatherForecast f) {
      return "Forecast: " + LeavingWords.of(f) + ".";
    }
    return entry instanceof Attendance a ? "Confirmed: " + LeavingWords.of(a) + "." : "";
  }

  private static String by(String who) {
    return who.isEmpty() ? "." : " (" + who + ").";
  }

  /** What each shut-in gauge read when people left and when they were back, one sentence. */
  public static String pressures(Absence absence, WellPicture picture, Plan plan) {
    Map<String, LastWord> left = picture.readings(absence.left());
    Optional<Map<String, LastWord>> back = absence.back().map(picture::readings);
    Pressures unit = Pressures.of(plan);
    String each =
        plan.gauges().stream()
            .filter(g -> g.ofShutIn() && left.containsKey(g.id()))
            .map(GaugePlan::id)
            .map(
                id ->
                    id
                        + " "
                        + read(unit, left.get(id))
                        + back.map(b -> " to " + read(unit, b.get(id))).orElse(""))
            .collect(Collectors.joining("; "));
    return each.isEmpty()
        ? "No reading of a shut-in gauge had come when people left."
        : (back.isPresent() ? "From leaving to coming back: " : "At leaving: ") + each + ".";
  }

  private static String read(Pressures unit, @Nullable LastWord word) {
    return word == null || !Double.isFinite(word.value())
        ? "no value"
        : unit.fine(word.value()) + " " + unit.sign();
  }
}

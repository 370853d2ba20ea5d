package stillwatch.rules.leaving;

import java.time.Duration;
import java.util.Locale;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.WeatherForecast;
import stillwatch.rules.finding.UtcText;

/** What people said of leaving and of weather, in the words that page, report and digest share. */
public final class LeavingWords {
  private LeavingWords() {}

  /** Who watches from where, one clause. */
  public static String of(Attendance a) {
    return a.from() == Attendance.From.SHORE
        ? a.by() + " watches from shore by " + a.links()
        : a.by() + " watches on site";
  }

  /** The weather that is forecast, one clause. */
  public static String of(WeatherForecast f) {
    return "weather %s from %s to %s, by %s%s"
        .formatted(
            certainty(f.certainty()),
            minute(f.fromMs()),
            minute(f.toMs()),
            f.by(),
            f.text().isBlank() ? "" : ": " + f.text());
  }

  private static String certainty(WeatherForecast.Certainty c) {
    return switch (c) {
      case LIKELY -> "likely (over 50 %)";
      case POSSIBLE -> "possible (50 % or less)";
      case UNKNOWN -> "of unknown certainty";
      case OBSERVED, UNLIKELY -> c.wire();
    };
  }

  /** A moment to the minute, with its day, like {@code 03-08 18:00 UTC}. */
  public static String minute(long ms) {
    return UtcText.of(ms).substring(5, 16) + " UTC";
  }

  /** A duration in hours and minutes, without its sign, like {@code 14 h 05 min}. */
  public static String hours(Duration d) {
    long minutes = Math.round(d.abs().toSeconds() / 60.0);
    return String.format(Locale.ROOT, "%d h %02d min", minutes / 60, minutes % 60);
  }
}

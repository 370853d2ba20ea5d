package stillwatch.alerts.report;

import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.Locale;
import java.util.OptionalLong;

/** Times and spans as the report writes them. */
final class Words {
  private Words() {}

  /** A time to the second, UTC. */
  static String time(long ms) {
    return Instant.ofEpochMilli(ms).toString().substring(0, 19).replace('T', ' ');
  }

  /** Reads a time as ISO 8601 has it, ms since 1970 UTC; empty where it is none. */
  static OptionalLong ms(String at) {
    try {
      return OptionalLong.of(Instant.parse(at).toEpochMilli());
    } catch (DateTimeParseException e) {
      return OptionalLong.empty();
    }
  }

  /** A time of day, with the date where that is another than the day of {@code seenMs}. */
  static String time(long ms, long seenMs) {
    String at = time(ms);
    return (at.startsWith(time(seenMs).substring(0, 10)) ? at.substring(11) : at) + " UTC";
  }

  /** A time without its year and seconds, for an axis. */
  static String minute(long ms) {
    return time(ms).substring(5, 16);
  }

  /** A span in seconds, minutes, or hours and minutes. */
  static String span(double seconds) {
    long s = Math.round(seconds);
    return s < 120
        ? s + " s"
        : s < 3600
            ? s / 60 + " min"
            : s / 3600 + " h " + String.format(Locale.ROOT, "%02d", s / 60 % 60) + " min";
  }
}

package stillwatch.ingest.intake;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.Iterator;
import java.util.Set;
import java.util.TreeSet;
import stillwatch.ingest.intake.Refusal.Reason;

/** What every sort of line is asked alike. Stateless; safe from any thread. */
final class LineFields {
  private static final long LAST_MS = 4_102_444_800_000L; // 2100-01-01: later is a broken clock

  private LineFields() {}

  /** The time in this field, ms since 1970 UTC. */
  static long time(JsonNode n, String key) throws RefusalException {
    if (!n.path(key).isTextual()) {
      throw new RefusalException(
          Reason.BAD_TIME, "'" + key + "' is missing; write it like \"2026-03-01T12:00:00.000Z\"");
    }
    String text = n.path(key).asText();
    try {
      long ms = Instant.parse(text).toEpochMilli();
      if (ms >= 0 && ms < LAST_MS) {
        return ms;
      }
      throw new RefusalException(
          Reason.BAD_TIME,
          "the time '" + text + "' is not between 1970 and 2100; check the source's clock");
    } catch (DateTimeException | ArithmeticException e) {
      throw new RefusalException(
          Reason.BAD_TIME, "the time '" + text + "' is not written like 2026-03-01T12:00:00.000Z");
    }
  }

  /**
   * Refuses a line with a field that its sort does not have. Every sort may say when it was
   * received by whoever had it before.
   */
  static void onlyKnown(JsonNode n, Set<String> known, String what) throws RefusalException {
    for (Iterator<String> names = n.fieldNames(); names.hasNext(); ) {
      String name = names.next();
      if (!known.contains(name) && !name.equals("received")) {
        throw new RefusalException(
            Reason.UNKNOWN_FIELD,
            what + " has no field '" + name + "'; known are " + new TreeSet<>(known));
      }
    }
  }

  /** A length of time in words, rounded down, for example {@code 23 h 58 min}. */
  static String span(long ms) {
    long s = ms / 1000;
    if (s < 120) {
      return s + " s";
    }
    if (s < 3600) {
      return s / 60 + " min" + rest(s % 60, "s");
    }
    if (s < 2 * 86_400) {
      return s / 3600 + " h" + rest(s % 3600 / 60, "min");
    }
    return s / 86_400 + " d" + rest(s % 86_400 / 3600, "h");
  }

  private static String rest(long count, String unit) {
    return count == 0 ? "" : " " + count + " " + unit;
  }

  /** A field as it stands in the line, cut short. */
  static String brief(JsonNode n) {
    String text = n.toString();
    return text.length() <= 40 ? text : text.substring(0, 40) + "...";
  }
}

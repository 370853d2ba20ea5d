package stillwatch.rules.finding;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** A moment as people read it in a sentence or a terminal. */
public final class UtcText {
  private static final DateTimeFormatter CLOCK =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss 'UTC'", Locale.ROOT)
          .withZone(ZoneOffset.UTC);

  private UtcText() {}

  /** The moment, ms since 1970 UTC, like {@code 2026-03-08 11:45:05 UTC}. */
  public static String of(long ms) {
    return CLOCK.format(Instant.ofEpochMilli(ms));
  }
}

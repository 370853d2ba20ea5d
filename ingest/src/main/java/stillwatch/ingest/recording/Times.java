package stillwatch.ingest.recording;

import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.temporal.TemporalAccessor;
import java.time.temporal.TemporalQueries;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Reads the times of a recording, as its layout says they are written. */
final class Times {
  private final RecordingLayout.TimeFormat format;
  private final ZoneId zone;
  private final @Nullable DateTimeFormatter pattern;

  Times(RecordingLayout.TimeColumn column) {
    format = column.format();
    zone = column.zone();
    pattern =
        column.pattern() == null
            ? null
            : DateTimeFormatter.ofPattern(column.pattern(), Locale.ROOT);
  }

  /**
   * The time in {@code text[from; to)}, ms since 1970 UTC; fractions of a millisecond are cut off.
   *
   * @throws DateTimeException when it cannot be read
   */
  long parse(byte[] text, int from, int to) {
    if (from >= to) {
      throw new DateTimeException("the time is empty");
    }
    return switch (format) {
      case RFC3339 -> rfc3339(text, from, to);
      case EPOCH_S -> epoch(text, from, to, 1000);
      case EPOCH_MS -> epoch(text, from, to, 1);
      case PATTERN -> patterned(new String(text, from, to - from, StandardCharsets.UTF_8));
    };
  }

  private static long epoch(byte[] text, int from, int to, double scale) {
    try {
      double value = Decimals.parse(text, from, to) * scale;
      if (!Double.isFinite(value) || Math.abs(value) > 1e15) {
        throw new DateTimeException("the time is out of reach");
      }
      return (long) Math.floor(value + 1e-3); // 1700000000.123 s must not become .122999
    } catch (NumberFormatException e) {
      throw new DateTimeException("the time is no number", e);
    }
  }

  private long patterned(String text) {
    DateTimeFormatter p = pattern;
    if (p == null) {
      throw new DateTimeException("the layout lacks its time pattern");
    }
    TemporalAccessor parsed = p.parse(text);
    LocalDate date = LocalDate.from(parsed);
    LocalTime time = parsed.query(TemporalQueries.localTime());
    ZoneId own = parsed.query(TemporalQueries.zone());
    return date.atTime(time == null ? LocalTime.MIDNIGHT : time)
        .atZone(own == null ? zone : own)
        .toInstant()
        .toEpochMilli();
  }

  /**
   * RFC 3339, with a blank allowed for the T, and the layout's zone where the offset is left out.
   */
  private long rfc3339(byte[] text, int from, int to) {
    if (to - from < 19
        || text[from + 4] != '-'
        || text[from + 7] != '-'
        || (text[from + 10] != 'T' && text[from + 10] != 't' && text[from + 10] != ' ')
        || text[from + 13] != ':'
        || text[from + 16] != ':') {
      throw new DateTimeException("the time is not written like 2026-03-01T12:00:00Z");
    }
    int year = digits(text, from, 4);
    int month = digits(text, from + 5, 2);
    int day = digits(text, from + 8, 2);
    int hour = digits(text, from + 11, 2);
    int minute = digits(text, from + 14, 2);
    int second = digits(text, from + 17, 2);
    int i = from + 19;
    int ms = 0;
    if (i < to && text[i] == '.') {
      int place = 100;
      for (i++; i < to && text[i] >= '0' && text[i] <= '9'; i++) {
        ms += (text[i] - '0') * place;
        place /= 10;
      }
    }
    if (text[i - 1] == '.') {
      throw new DateTimeException("the time's fraction is empty");
    }
    if (hour > 23 || minute > 59 || second > 60) {
      throw new DateTimeException("the time of day does not exist");
    }
    boolean leap =
        second == 60; // legal in RFC 3339; taken as the second before, as Java's Instant does
    long local =
        LocalDate.of(year, month, day).toEpochDay() * 86_400_000L
            + ((hour * 60L + minute) * 60 + (leap ? 59 : second)) * 1000
            + ms;
    return i == to ? inZone(local, ms) : local - offset(text, i, to);
  }

  /** A time of the layout's zone, ms since 1970 UTC. */
  private long inZone(long local, int ms) {
    return zone.equals(ZoneOffset.UTC) || zone.getId().equals("UTC")
        ? local
        : LocalDateTime.ofEpochSecond(Math.floorDiv(local, 1000), 0, ZoneOffset.UTC)
                    .atZone(zone)
                    .toEpochSecond()
                * 1000
            + ms;
  }

  /** How far a time written with Z or an offset is ahead of UTC, ms. */
  private static long offset(byte[] text, int i, int to) {
    if ((text[i] == 'Z' || text[i] == 'z') && i + 1 == to) {
      return 0;
    }
    if ((text[i] == '+' || text[i] == '-') && to - i == 6 && text[i + 3] == ':') {
      int hours = digits(text, i + 1, 2);
      int minutes = digits(text, i + 4, 2);
      if (hours > 23 || minutes > 59) {
        throw new DateTimeException("the time's offset does not exist");
      }
      long offset = (hours * 60L + minutes) * 60_000;
      return text[i] == '+' ? offset : -offset;
    }
    throw new DateTimeException("the time's offset is not written like Z or +01:00");
  }

  private static int digits(byte[] text, int at, int count) {
    int value = 0;
    for (int i = at; i < at + count; i++) {
      if (text[i] < '0' || text[i] > '9') {
        throw new DateTimeException("the time is not written like 2026-03-01T12:00:00Z");
      }
      value = value * 10 + text[i] - '0';
    }
    return value;
  }
}

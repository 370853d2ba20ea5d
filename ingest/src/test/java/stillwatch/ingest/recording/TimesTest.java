package stillwatch.ingest.recording;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.LongRange;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.ingest.recording.RecordingLayout.TimeColumn;
import stillwatch.ingest.recording.RecordingLayout.TimeFormat;

/** Times of a recording, against Java's own reading of ISO 8601; the grammar is RFC 3339, 5.6. */
class TimesTest {
  private static final long YEAR_2100_MS = 4_102_444_800_000L;

  private static long parse(TimeFormat format, ZoneId zone, String text) {
    byte[] padded = ("x" + text + "y").getBytes(StandardCharsets.UTF_8);
    return new Times(new TimeColumn("t", format, null, zone)).parse(padded, 1, padded.length - 1);
  }

  @Property(seed = "20260308")
  void anyMomentInAnyOffsetIsReadAsWritten(
      @ForAll @LongRange(min = -2_000_000_000_000L, max = YEAR_2100_MS) long ms,
      @ForAll @IntRange(min = -1079, max = 1079) int offsetMin) {
    OffsetDateTime moment =
        Instant.ofEpochMilli(ms).atOffset(ZoneOffset.ofTotalSeconds(offsetMin * 60));
    String text = moment.withNano(0).toLocalDateTime().toString();
    text = text.length() == 16 ? text + ":00" : text;
    text += ".%03d".formatted(moment.getNano() / 1_000_000) + moment.getOffset();
    assertThat(parse(TimeFormat.RFC3339, ZoneOffset.UTC, text)).as(text).isEqualTo(ms);
  }

  @Property(seed = "20260308")
  void aTimeWithoutOffsetIsTheZonesAlsoWhereItsClocksChange(
      @ForAll @LongRange(min = 0, max = 2_000_000_000L) long second,
      @ForAll @IntRange(min = 0, max = 999) int ms) {
    ZoneId zone = ZoneId.of("Europe/Oslo");
    LocalDateTime local = LocalDateTime.ofEpochSecond(second, 0, ZoneOffset.UTC);
    String text = local.toString();
    text = (text.length() == 16 ? text + ":00" : text) + ".%03d".formatted(ms);
    assertThat(parse(TimeFormat.RFC3339, zone, text))
        .isEqualTo(local.atZone(zone).toInstant().toEpochMilli() + ms);
  }

  @Property(seed = "20260308")
  void secondsAndMillisecondsOf1970AreExact(
      @ForAll @LongRange(min = 0, max = YEAR_2100_MS) long ms) {
    assertThat(parse(TimeFormat.EPOCH_MS, ZoneOffset.UTC, Long.toString(ms))).isEqualTo(ms);
    assertThat(parse(TimeFormat.EPOCH_S, ZoneOffset.UTC, ms / 1000 + ".%03d".formatted(ms % 1000)))
        .isEqualTo(ms);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "2026-03-01",
        "2026-02-30T00:00:00Z",
        "2026-13-01T00:00:00Z",
        "2026-03-01T24:00:00Z",
        "2026-03-01T00:60:00Z",
        "2026-03-01T00:00:61Z",
        "2026-03-01T00:00:00+01",
        "2026-03-01T00:00:00+0100",
        "2026-03-01T00:00:00+24:00",
        "2026-03-01T00:00:00+01:60",
        "2026-03-01T00:00:00+99:99",
        "2026-03-01T00:00:00.Z",
        "2026-03-01x00:00:00Z",
        "2026-03-01T00:00:00Zulu",
        "01.03.2026 00:00:00"
      })
  void whatIsNoTimeIsRefusedRatherThanReadAsAnother(String text) {
    assertThatThrownBy(() -> parse(TimeFormat.RFC3339, ZoneOffset.UTC, text))
        .isInstanceOf(DateTimeException.class);
  }
}

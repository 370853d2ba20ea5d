package stillwatch.ingest.recording;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.ingest.recording.RecordingLayout.Column;
import stillwatch.ingest.recording.RecordingLayout.Shape;
import stillwatch.ingest.recording.RecordingLayout.TimeColumn;
import stillwatch.ingest.recording.RecordingLayout.TimeFormat;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.unit.Kind;

/** Numbers, times and rows of recordings. */
class ReadingTest {
  @TempDir Path folder;

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  private static long time(String text, TimeFormat format, String zone) {
    byte[] b = bytes(text);
    return new Times(new TimeColumn("t", format, null, ZoneId.of(zone))).parse(b, 0, b.length);
  }

  @Property
  void everyDoubleIsReadBackToTheLastBit(@ForAll double value) {
    byte[] text = bytes(Double.toString(value));
    assertThat(Double.valueOf(Decimals.parse(text, 0, text.length)))
        .isEqualTo(Double.valueOf(value));
  }

  @Property
  void decimalsWithFewDigitsAreTheNearestDouble(@ForAll int whole, @ForAll short fraction) {
    String text = whole + "." + String.format("%05d", Math.abs((int) fraction));
    byte[] b = bytes(text);
    assertThat(Decimals.parse(b, 0, b.length)).isEqualTo(Double.parseDouble(text));
  }

  /** The examples of RFC 3339, section 5.8 (from memory), and epochs. */
  @ParameterizedTest
  @CsvSource({
    "1985-04-12T23:20:50.52Z, RFC3339, 1985-04-12T23:20:50.520Z",
    "1996-12-19T16:39:57-08:00, RFC3339, 1996-12-20T00:39:57Z",
    "1937-01-01T12:00:27.87+00:20, RFC3339, 1937-01-01T11:40:27.870Z",
    "1990-12-31T23:59:60Z, RFC3339, 1990-12-31T23:59:59Z",
    "2026-03-08 06:00:00, RFC3339, 2026-03-08T06:00:00Z",
    "1772949600, EPOCH_S, 2026-03-08T06:00:00Z",
    "1772949600.125, EPOCH_S, 2026-03-08T06:00:00.125Z",
    "1772949600125, EPOCH_MS, 2026-03-08T06:00:00.125Z"
  })
  void timesAreReadAsTheirFormatSays(String text, TimeFormat format, String expected) {
    assertThat(Instant.ofEpochMilli(time(text, format, "UTC"))).isEqualTo(Instant.parse(expected));
  }

  @Test
  void aTimeWithoutOffsetIsReadInTheDeclaredZone() {
    assertThat(Instant.ofEpochMilli(time("2026-07-01T12:00:00", TimeFormat.RFC3339, "Europe/Oslo")))
        .isEqualTo(Instant.parse("2026-07-01T10:00:00Z"));
    assertThatThrownBy(() -> time("yesterday", TimeFormat.RFC3339, "UTC"))
        .isInstanceOf(DateTimeException.class);
  }

  private static RecordingLayout wide() {
    return new RecordingLayout(
        "w",
        Shape.WIDE,
        new TimeColumn("time", TimeFormat.RFC3339, null, ZoneId.of("UTC")),
        null,
        null,
        List.of(new Column("p", "P", Kind.PRESSURE, "bar", "q")),
        null,
        null,
        null);
  }

  private static RecordingLayout tall() {
    return new RecordingLayout(
        "w",
        Shape.LONG,
        new TimeColumn("time", TimeFormat.EPOCH_S, null, ZoneId.of("UTC")),
        null,
        null,
        List.of(
            new Column("a", "A", Kind.PRESSURE, "kPa", null),
            new Column("b", "B", Kind.PRESSURE, "kPa", null)),
        "gauge",
        "value",
        null);
  }

  private List<Frame> frames(String text, RecordingLayout layout, Problems problems)
      throws IOException {
    Path file = Files.writeString(folder.resolve("r.csv"), text);
    List<Frame> frames = new ArrayList<>();
    try (RecordingFeed feed = RecordingFeed.open(file, layout, problems)) {
      for (@Nullable Telemetry e = feed.next(); e != null; e = feed.next()) {
        if (e instanceof Frame f) {
          frames.add(f);
        }
      }
    }
    return frames;
  }

  @Test
  void badRowsAreToldWithTheirLineAndNeverStopTheRun() throws IOException {
    Problems problems = new Problems();
    List<Frame> frames =
        frames(
            """
            time,p,q
            2026-03-08T06:00:00Z,1,good
            never,2,good
            2026-03-08T06:00:02Z,NaN,good
            2026-03-08T06:00:03Z,three,good
            2026-03-08T06:00:01Z,4,good
            2026-03-08T06:00:05Z,5,bad
            2026-03-08T06:00:05Z,6
            2026-03-08T06:00:07Z,7,good,8
            """,
            wide(),
            problems);
    assertThat(frames).anySatisfy(f -> assertThat(f.values()).containsExactly(100)); // 1 bar
    assertThat(problems.count(Problems.Sort.BAD_TIME)).isEqualTo(1);
    assertThat(problems.count(Problems.Sort.BAD_NUMBER)).isEqualTo(1);
    assertThat(problems.count(Problems.Sort.OUT_OF_ORDER)).isEqualTo(1);
    assertThat(problems.count(Problems.Sort.SAME_TIME)).isEqualTo(1);
    assertThat(problems.count(Problems.Sort.SHORT_ROW)).isEqualTo(1);
    assertThat(problems.count(Problems.Sort.LONG_ROW)).isEqualTo(1);
    assertThat(problems.report()).anyMatch(line -> line.contains("r.csv:3"));
  }

  @Test
  void rowsOfOneReadingEachAreGatheredByTheirTime() throws IOException {
    Problems problems = new Problems();
    List<Frame> frames =
        frames("time,gauge,value\n100,a,1\n100,b,2\n101,a,3\n101,x,4\n", tall(), problems);
    assertThat(frames).hasSize(2);
    assertThat(problems.count(Problems.Sort.UNKNOWN_GAUGE)).isEqualTo(1);
  }

  @Test
  void aMissingColumnAndAnEmptyFileAreRefusedWithOneSentence() {
    assertThatThrownBy(() -> frames("zeit,p,q\n", wide(), new Problems()))
        .isInstanceOf(RecordingException.class)
        .hasMessageContaining("time");
    assertThatThrownBy(() -> frames("", wide(), new Problems()))
        .isInstanceOf(RecordingException.class);
  }
}

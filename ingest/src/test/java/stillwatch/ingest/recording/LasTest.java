package stillwatch.ingest.recording;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.regex.Pattern;
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

/**
 * LAS 2.0 files (Canadian Well Logging Society, LAS Version 2.0: A Digital Standard for Logs).
 * Their data are invented; hours.las has the form in which lasio 0.2 wrote the example in its
 * documentation, wrapped.las that of the standard's own example. What the cells are was read by
 * las-js 3.4.2, with the words of the section heads as the standard has them.
 */
class LasTest {
  /** 1 lbf/in² in kPa (NIST SP 811, B.8: 6.894 757 E+03 Pa). */
  private static final double PSI = 6.894757;

  @TempDir Path folder;

  private final Problems problems = new Problems();

  private static Column column(String header, String gauge, Kind kind, String unit) {
    return new Column(header, gauge, kind, unit, null, false);
  }

  private static final List<Column> CAP =
      List.of(
          column("PORT", "PT-1", Kind.PRESSURE, "kPa"),
          column("stbd", "PT-2", Kind.PRESSURE, "kPa"),
          column("RAMS", "TT-1", Kind.TEMPERATURE, "Cel"));

  private static String text(String name) throws IOException {
    try (InputStream in = LasTest.class.getResourceAsStream(name)) {
      return new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  private List<Frame> frames(String text, List<Column> columns, TimeColumn time)
      throws IOException {
    Path file = Files.writeString(folder.resolve("cap.LAS"), text);
    RecordingLayout layout =
        new RecordingLayout(
            "larkspur-2", Shape.WIDE, time, "received", "operation", columns, null, null, null);
    List<Frame> frames = new ArrayList<>();
    try (RecordingFeed feed = RecordingFeed.open(file, layout, problems)) {
      for (Telemetry t = feed.next(); t != null; t = feed.next()) {
        if (t instanceof Frame f) {
          frames.add(f);
        }
      }
    }
    return frames;
  }

  private List<Frame> frames(String text) throws IOException {
    return frames(text, CAP, time(TimeFormat.RFC3339, null));
  }

  private static TimeColumn time(TimeFormat format, @Nullable String pattern) {
    return new TimeColumn("time", format, pattern, ZoneId.of("UTC"));
  }

  private static void says(Frame frame, String at, double... values) {
    assertThat(Instant.ofEpochMilli(frame.atMs())).isEqualTo(at);
    for (int i = 0; i < values.length; i++) {
      if (Double.isNaN(values[i])) {
        assertThat(frame.values()[i]).isNaN();
      } else {
        assertThat(frame.values()[i]).isCloseTo(values[i], within(0.01));
      }
    }
  }

  @Test
  void hoursAreCountedFromTheDateAndUnitsAreThoseOfTheFile() throws Exception {
    List<Frame> frames = frames(text("hours.las"));
    double none = Double.NaN;
    assertThat(frames).hasSize(5);
    says(frames.get(0), "2026-03-08T06:00:00.250Z", 46_900, 6802.27 * PSI, 4.5);
    says(frames.get(1), "2026-03-08T06:00:01.150Z", 46_901, 6802.42 * PSI, 4.51);
    says(frames.get(2), "2026-03-08T06:00:02.050Z", none, 6802.56 * PSI, none);
    says(frames.get(3), "2026-03-08T06:00:02.950Z", 46_903, none, 4.53);
    says(frames.get(4), "2026-03-08T06:00:03.850Z", 46_904, 6802.85 * PSI, none);
    assertThat(problems.report()).isEmpty();
  }

  /** The row at 62 s lacks its last line, so that what follows could be taken for its values. */
  @Test
  void wrappedRowsAreReadAndThoseThatLackALineAreLeftOut() throws Exception {
    List<Frame> frames = frames(text("wrapped.las"));
    says(frames.get(0), "2026-03-08T06:01:00Z", 46_900, 46_890, 4.5);
    says(frames.get(1), "2026-03-08T06:01:01Z", 46_901, Double.NaN, 4.51);
    assertThat(frames).hasSize(2);
    assertThat(problems.report()).anyMatch(l -> l.contains("cap.LAS:27: the lines from here on"));
  }

  /** The index of the next row takes the place of the value that is lacking at 61 s. */
  @Test
  void noIndexIsTakenForAValue() throws Exception {
    String rows =
        "60\n46900 46890 4.5\n1\n61\n46901 46891 4.51\n62\n46902 46892 4.52\n1\n63\n46903 46893 4.53\n1\n";
    List<Frame> frames = frames(text("wrapped.las").replaceAll("(?s)(~A[^\n]*\n).*", "$1" + rows));
    assertThat(frames).hasSize(1);
    says(frames.get(0), "2026-03-08T06:01:00Z", 46_900, 46_890, 4.5);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "PATTERN | yyMMdd HHmmss | 260308 | 060001",
        "RFC3339 | | 2026-03-08 | 06:00:01",
      })
  void dateAndTimeMayBeTwoCurves(TimeFormat format, String pattern, String day, String time)
      throws Exception {
    String text =
        text("hours.las")
            .replace("TIME      .HR ", "DATE      .   ")
            .replace("FLAG ", "TIME ")
            .replaceAll("(?s)(~ASCII[^\n]*\n).*", "$1" + day + " 46.9 6802 " + time + " 4.5\n");
    says(
        frames(text, CAP, time(format, pattern)).get(0),
        "2026-03-08T06:00:01Z",
        46_900,
        6802 * PSI,
        4.5);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "~Version | ~Well | cap.LAS:1: a LAS file begins with the section ~Version",
        "2.0 : CWLS | 1.2 : CWLS | cap.LAS: is LAS 1.2; only 2.0 is read, so save it as that",
        "NO : One | MAYBE : One | cap.LAS:3: WRAP is YES or NO, not 'MAYBE'",
        "-9999.25 : | none : | cap.LAS:8: NULL must be a number like -999.25, not 'none'",
        "NULL  | NIL  | cap.LAS: lacks NULL in its section ~W",
        "TIME      .HR | DEPT      .M  | cap.LAS:14: the file is indexed by DEPT, a depth",
        "06:00:00.250000 | | cap.LAS:11: '2026-03-08' does not say the moment",
        "DATE      . | DAY       . | cap.LAS: does not say when its index TIME is 0; write DATE.",
        ".psi | .degF | cap.LAS:16: the curve STBD is in degF, but the gauge PT-2 measures pressure",
        ".psi | .psia | cap.LAS:16: the unit psia of the curve STBD is not known; say 'unit'",
        "STBD | STARB | cap.LAS: has no curve 'stbd', which the plan names for it; it has TIME, PORT",
        "FLAG | PORT | cap.LAS:17: the curve PORT stands in line 15 already",
        "RAMS      .degC | RAMS | cap.LAS:18: 'RAMS",
        "~ASCII | ~Last | cap.LAS: ends without a ~A section",
      })
  void whatCannotBeReadIsToldWithItsPlace(String of, @Nullable String by, String says)
      throws Exception {
    String text = text("hours.las");
    assertThat(text).contains(of);
    String broken = text.replaceFirst(Pattern.quote(of), by == null ? "" : by);
    assertThatThrownBy(() -> frames(broken))
        .isInstanceOf(RecordingException.class)
        .hasMessageContaining(says);
  }

  @Test
  void aUnitThatThePlanStatesMustBeThatOfTheFile() throws Exception {
    String text = text("hours.las");
    List<Column> stated = List.of(new Column("PORT", "PT-1", Kind.PRESSURE, "bar", null));
    TimeColumn time = time(TimeFormat.RFC3339, null);
    assertThatThrownBy(() -> frames(text, stated, time))
        .hasMessageEndingWith(
            "cap.LAS:15: the curve PORT is in MPa, but the plan says bar; correct one of them");
    String unknown = text.replace("PORT      .MPa ", "PORT      .bara");
    assertThat(frames(unknown, stated, time).get(0).values()[0]).isEqualTo(4690);
  }

  /** Whatever a byte becomes, the file is read or refused in a sentence. */
  @Test
  void noMutatedByteBreaksTheReader() throws Exception {
    for (String name : List.of("hours.las", "wrapped.las")) {
      char[] whole = text(name).toCharArray();
      for (int i = 0; i < whole.length; i += 7) {
        char[] mutated = whole.clone();
        mutated[i] = "~.: \n9-x".charAt(i % 8);
        try {
          var unused = frames(new String(mutated));
        } catch (RecordingException e) {
          assertThat(e.getMessage()).contains("cap.LAS").doesNotContain("null");
        }
      }
    }
  }
}

package stillwatch.ingest.recording;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.unit.Kind;

/** What people did, from a file beside the recording. */
class OperationsFileTest {
  @TempDir Path folder;

  private static RecordingLayout layout(@Nullable String operation) {
    return new RecordingLayout(
        "larkspur-2",
        RecordingLayout.Shape.WIDE,
        new RecordingLayout.TimeColumn(
            "t", RecordingLayout.TimeFormat.RFC3339, null, ZoneId.of("Europe/Oslo")),
        null,
        operation,
        List.of(new RecordingLayout.Column("p", "PT-1", Kind.PRESSURE, "kPa", null)),
        null,
        null,
        null);
  }

  private Path file(String name, String text) throws IOException {
    return Files.writeString(folder.resolve(name), text);
  }

  private static List<String> all(TelemetrySource source) throws IOException {
    List<String> all = new ArrayList<>();
    try (source) {
      for (Telemetry t = source.next(); t != null; t = source.next()) {
        if (!(t instanceof Pulse)) {
          all.add(t.toString());
        }
      }
    }
    return all;
  }

  private List<String> beside(Path recording, Path operations, Problems problems)
      throws IOException {
    RecordingLayout layout = layout(null);
    return all(
        OperationsFile.beside(
            RecordingFeed.open(recording, layout, problems), operations, layout, problems));
  }

  /** The same entries in the same order, whichever file tells them. */
  @Test
  void itIsAsIfTheRecordingHadSaidIt() throws IOException {
    Path whole =
        file(
            "whole.csv",
            """
            t,p,o
            2026-03-08T06:00:00Z,46900,
            2026-03-08T06:00:01Z,46901,closure-step: choke part-turn 1 of 6
            2026-03-08T06:00:02Z,46902,observation: camera; clear; A. Berg; no bubbles
            2026-03-08T06:00:09Z,46903,gauge-zeroed: PT-1; at the surface
            """);
    Path bare =
        file(
            "bare.csv",
            """
            t,p
            2026-03-08T06:00:00Z,46900
            2026-03-08T06:00:01Z,46901
            2026-03-08T06:00:02Z,46902
            2026-03-08T06:00:09Z,46903
            """);
    Path operations =
        file(
            "operations.csv",
            """
            time;operation
            2026-03-08T06:00:09Z;"gauge-zeroed: PT-1; at the surface"
            2026-03-08 07:00:01;closure-step: choke part-turn 1 of 6
            2026-03-08T06:00:02Z;"observation: camera; clear; A. Berg; no bubbles"
            """);
    Problems problems = new Problems();
    assertThat(beside(bare, operations, problems))
        .isEqualTo(all(RecordingFeed.open(whole, layout("o"), problems)))
        .hasSize(7);
    assertThat(problems.report()).isEmpty();
  }

  @Test
  void whatIsWrongOrOutsideIsToldByItsLineAndTheRestCounts() throws IOException {
    Path bare = file("bare.csv", "t,p\n2026-03-08T06:00:00Z,46900\n2026-03-08T06:00:01Z,46901\n");
    Path operations =
        file(
            "operations.csv",
            """
            time,operation
            2026-03-08T05:00:00Z,valve: too early
            2026-03-08T07:00:00Z,valve: too late
            noon,valve: when?
            2026-03-08T06:00:01Z,walve: which?
            2026-03-08T06:00:01Z,gauge-zeroed: PT-9; which?
            2026-03-08T06:00:01Z,valve: this one
            """);
    Problems problems = new Problems();
    assertThat(beside(bare, operations, problems)).hasSize(3);
    assertThat(problems.count(Problems.Sort.OUTSIDE)).isEqualTo(2);
    assertThat(problems.count(Problems.Sort.BAD_TIME)).isEqualTo(1);
    assertThat(problems.count(Problems.Sort.BAD_OPERATION)).isEqualTo(2);
    assertThat(problems.report())
        .anyMatch(l -> l.contains("operations.csv:2: valve: too early"))
        .anyMatch(l -> l.contains("operations.csv:6: the recording has no gauge 'PT-9'"));
  }

  @Test
  void aFileThatIsNoneIsRefusedInOneSentence() throws IOException {
    Path bare = file("bare.csv", "t,p\n2026-03-08T06:00:00Z,46900\n");
    Problems problems = new Problems();
    assertThatThrownBy(() -> beside(bare, folder.resolve("none.csv"), problems))
        .isInstanceOf(RecordingException.class)
        .hasMessageContaining("none.csv: there is no such file");
    assertThatThrownBy(() -> beside(bare, bare, problems))
        .isInstanceOf(RecordingException.class)
        .hasMessageContaining("has no column 'time'");
  }
}

package stillwatch.ingest.recording;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Telemetry;

/**
 * A recording with what people did, saw, decided and explained from a file beside it: CSV with the
 * columns {@code time} (RFC 3339; in the recording's zone where it states none) and {@code
 * operation}, a cell of which is as in a recording. Each comes when its time comes; what lies
 * before the recording's first entry or after its last is told and left out. One thread at a time.
 */
public final class OperationsFile implements TelemetrySource {
  private static final String TIME = "time";
  private static final String OPERATION = "operation";

  private final Path file;
  private final RecordingLayout layout;
  private final TelemetrySource recording;
  private final Problems problems;
  private final List<Row> rows;

  private int next;
  private boolean begun;
  private @Nullable Telemetry held;

  private OperationsFile(
      Path file,
      RecordingLayout layout,
      TelemetrySource recording,
      Problems problems,
      List<Row> rows) {
    this.file = file;
    this.layout = layout;
    this.recording = recording;
    this.problems = problems;
    this.rows = rows;
  }

  /**
   * Puts a file beside a recording, which is closed with it.
   *
   * @param file null leaves the recording as it is
   * @param layout the recording's
   * @param problems told what is wrong in the file
   * @throws RecordingException when it is no such file: missing, empty, binary, a column lacking
   */
  public static TelemetrySource beside(
      TelemetrySource recording, @Nullable Path file, RecordingLayout layout, Problems problems)
      throws IOException {
    if (file == null) {
      return recording;
    }
    try {
      List<Row> rows = read(file, layout, problems);
      return new OperationsFile(file, layout, recording, problems, rows);
    } catch (IOException | RuntimeException e) {
      recording.close();
      throw e;
    }
  }

  private static List<Row> read(Path file, RecordingLayout layout, Problems problems)
      throws IOException {
    if (!Files.isRegularFile(file)) {
      throw new RecordingException(
          file + ": there is no such file; name a CSV file with the columns time and operation");
    }
    ZoneId zone = layout.time().zone();
    RecordingLayout own =
        new RecordingLayout(
            layout.well(),
            RecordingLayout.Shape.WIDE,
            new RecordingLayout.TimeColumn(TIME, RecordingLayout.TimeFormat.RFC3339, null, zone),
            null,
            OPERATION,
            List.of(),
            null,
            null,
            null);
    List<Row> rows = new ArrayList<>();
    try (InputStream text = new BufferedInputStream(Files.newInputStream(file), 1 << 16)) {
      RowReader reader = new RowReader(file, own, problems, text);
      for (Row row = reader.next(); row != null; row = reader.next()) {
        rows.add(row);
      }
    }
    rows.sort(Comparator.comparingLong(Row::atMs)); // of one time, as they stand
    return rows;
  }

  @Override
  public @Nullable Telemetry next() throws IOException {
    Telemetry of = held == null ? recording.next() : held;
    held = null;
    if (!begun && of != null) {
      begun = true;
      while (next < rows.size() && rows.get(next).atMs() < of.receivedMs()) {
        outside(rows.get(next++));
      }
    }
    while (next < rows.size() && (of == null || due(rows.get(next).atMs(), of))) {
      Row row = rows.get(next++);
      if (of == null) {
        outside(row);
        continue;
      }
      Telemetry told = told(row);
      if (told != null) {
        held = of;
        return told;
      }
    }
    return of;
  }

  /** Whether what happened then comes before an entry: a reading of that time, or what is later. */
  private static boolean due(long atMs, Telemetry entry) {
    return entry.receivedMs() > atMs || (entry.receivedMs() == atMs && entry instanceof Frame);
  }

  private @Nullable Telemetry told(Row row) {
    if (row.operation().isEmpty()) {
      return null;
    }
    try {
      Telemetry told = EventCell.read(row.operation(), layout.well(), row.atMs(), row.atMs());
      if (told instanceof Operation o
          && !o.gauge().isEmpty()
          && !layout.gauges().contains(o.gauge())) {
        throw new IllegalArgumentException("the recording has no gauge '" + o.gauge() + "'");
      }
      return told;
    } catch (IllegalArgumentException e) {
      problems.add(Problems.Sort.BAD_OPERATION, here(row) + e.getMessage());
      return null;
    }
  }

  private void outside(Row row) {
    problems.add(Problems.Sort.OUTSIDE, here(row) + row.operation());
  }

  private String here(Row row) {
    return file.getFileName() + ":" + row.line() + ": ";
  }

  @Override
  public void close() throws IOException {
    recording.close();
  }
}

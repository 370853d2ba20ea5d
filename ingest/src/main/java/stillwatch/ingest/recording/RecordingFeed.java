package stillwatch.ingest.recording;

import java.io.EOFException;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.zip.ZipException;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Telemetry;

/**
 * A recording as a log, CSV or, by its name, LAS 2.0, packed by gzip or not: rows in the file's
 * order, a pulse at each whole second that passes, so that replay and live see the same. The same
 * file gives the same entries always. A bad row is noted and left out; it never stops the run.
 * Memory does not grow with the file. One thread at a time, but {@link #bytesRead()} may be asked
 * from any.
 */
public final class RecordingFeed implements Recording {
  private final Path file;
  private final RecordingLayout layout;
  private final Problems problems;
  private final RecordingFile bytes;
  private final RowSource reader;
  private final RowQueue rows;
  private final ReceptionTimes reception;
  private final GaugeSet gauges;
  private final ArrayDeque<Telemetry> ready = new ArrayDeque<>();
  private final LogTime time;

  private long lastAtMs = Long.MIN_VALUE;
  private @Nullable PartialFrame gathering;

  private RecordingFeed(Path file, RecordingLayout layout, Problems problems, RecordingFile bytes)
      throws IOException {
    this.file = file;
    boolean las = LasReader.named(file);
    this.layout = las ? layout.ofCurves() : layout;
    this.problems = problems;
    this.bytes = bytes;
    reader =
        las
            ? new LasReader(file, this.layout, problems, bytes.text())
            : new RowReader(file, layout, problems, bytes.text());
    rows = new RowQueue(reader);
    reception = new ReceptionTimes(file.getFileName() + ":", problems);
    gauges = reader.gauges();
    time = new LogTime(layout.well(), ready::add, problems);
  }

  /**
   * Opens a recording.
   *
   * @param problems told what is wrong in it
   * @throws RecordingException when it cannot be a recording of this layout: missing, empty,
   *     binary, a column lacking
   * @throws stillwatch.ingest.unit.UnitException when the layout names an unknown unit
   */
  public static RecordingFeed open(Path file, RecordingLayout layout, Problems problems)
      throws IOException {
    RecordingFile bytes = RecordingFile.open(file);
    try {
      return new RecordingFeed(file, layout, problems, bytes);
    } catch (ZipException | EOFException e) {
      bytes.close();
      throw new RecordingException(
          file + ": is a broken gzip file (" + e.getMessage() + "); copy it again", e);
    } catch (RuntimeException e) {
      bytes.close();
      throw e;
    }
  }

  @Override
  public @Nullable Telemetry next() throws IOException {
    while (ready.isEmpty()) {
      Row row = row();
      if (row == null) {
        finishGathering();
        return ready.poll();
      }
      if (layout.shape() == RecordingLayout.Shape.LONG) {
        longRow(row);
      } else {
        wideRow(row);
      }
    }
    return ready.poll();
  }

  private @Nullable Row row() throws IOException {
    try {
      return rows.next();
    } catch (EOFException | ZipException e) {
      throw new RecordingException(
          file + ": the gzip data breaks off after line " + reader.line() + "; copy the file again",
          e);
    }
  }

  private void wideRow(Row row) throws IOException {
    order(row);
    time.passTo(reception.of(row, rows), () -> here(row));
    operation(row);
    boolean any = false;
    for (double value : row.values()) {
      any |= !Double.isNaN(value);
    }
    if (any) {
      ready.add(
          new Frame(layout.well(), row.atMs(), time.ms(), gauges, row.values(), row.qualities()));
    }
  }

  private void longRow(Row row) throws IOException {
    PartialFrame g = gathering;
    if (g == null || !g.holds(row)) {
      finishGathering();
      order(row);
      g = new PartialFrame(row, reception.of(row, rows), gauges.size());
      gathering = g;
    }
    if (!row.operation().isEmpty()) {
      finishGathering();
      time.passTo(g.receivedMs, () -> here(row));
      operation(row);
    } else if (row.column() != Row.NO_GAUGE) {
      g.values[row.column()] = row.values()[0];
      g.qualities[row.column()] = row.qualities()[0];
    }
  }

  private void finishGathering() {
    PartialFrame g = gathering;
    gathering = null;
    if (g != null) {
      time.passTo(g.receivedMs, () -> here(g.first));
      ready.add(new Frame(layout.well(), g.first.atMs(), time.ms(), gauges, g.values, g.qualities));
    }
  }

  private void order(Row row) {
    long atMs = row.atMs();
    if (atMs < lastAtMs) {
      problems.add(
          Problems.Sort.OUT_OF_ORDER, here(row) + (lastAtMs - atMs) / 1000.0 + " s earlier");
    } else if (atMs == lastAtMs) {
      problems.add(Problems.Sort.SAME_TIME, here(row) + "the same time");
    }
    lastAtMs = atMs;
  }

  private void operation(Row row) {
    if (row.operation().isEmpty()) {
      return;
    }
    try {
      Telemetry told = EventCell.read(row.operation(), layout.well(), row.atMs(), time.ms());
      if (told instanceof Operation o
          && !o.gauge().isEmpty()
          && !gauges.ids().contains(o.gauge())) {
        throw new IllegalArgumentException(
            "gauge '" + o.gauge() + "' is not in this recording; known are " + gauges.ids());
      }
      ready.add(told);
    } catch (IllegalArgumentException e) {
      problems.add(Problems.Sort.BAD_OPERATION, here(row) + e.getMessage());
    }
  }

  private String here(Row row) {
    return file.getFileName() + ":" + row.line() + ": ";
  }

  @Override
  public long bytesRead() {
    return bytes.bytesRead();
  }

  @Override
  public long size() {
    return bytes.size();
  }

  @Override
  public void close() throws IOException {
    bytes.close();
  }

  /** Long rows of one time, still being gathered. */
  private static final class PartialFrame {
    final Row first;
    final long receivedMs;
    final double[] values;
    final byte[] qualities;

    PartialFrame(Row first, long receivedMs, int columns) {
      this.first = first;
      this.receivedMs = receivedMs;
      values = new double[columns];
      Arrays.fill(values, Double.NaN);
      qualities = new byte[columns];
    }

    /**
     * Whether a row belongs to it: the same time of the source, and the same reception as far as
     * stated.
     */
    boolean holds(Row row) {
      return row.atMs() == first.atMs() && row.statedMs() == first.statedMs();
    }
  }
}

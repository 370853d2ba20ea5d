package stillwatch.ingest.recording;

import java.io.BufferedInputStream;
import java.io.EOFException;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipException;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.unit.Conversion;
import stillwatch.ingest.unit.Units;

/**
 * A CSV or CSV.gz recording as a log: rows in the file's order, a pulse at each whole second that
 * passes, so that replay and live see the same. The same file gives the same entries always. A bad
 * row is noted and left out; it never stops the run. Memory does not grow with the file. One thread
 * at a time, but {@link #bytesRead()} may be asked from any.
 */
public final class RecordingFeed implements TelemetrySource {
  private static final long GAP_MS = 24 * 3_600_000L;

  private final Path file;
  private final RecordingLayout layout;
  private final Problems problems;
  private final Counting counting;
  private final Rows rows;
  private final Times times;
  private final GaugeSet gauges;
  private final Conversion[] conversions;
  private final long size;
  private final ArrayDeque<Telemetry> ready = new ArrayDeque<>();

  private int width;
  private int timeCell;
  private int receivedCell;
  private int operationCell;
  private int gaugeCell;
  private int[] valueCells = new int[0];
  private int[] qualityCells = new int[0];
  private Map<String, Integer> columnOf = Map.of();

  private long lastAtMs = Long.MIN_VALUE;
  private long receivedMs = Long.MIN_VALUE;
  private @Nullable Gathering gathering;

  private RecordingFeed(
      Path file, RecordingLayout layout, Problems problems, Counting counting, InputStream text)
      throws IOException {
    this.file = file;
    this.layout = layout;
    this.problems = problems;
    this.counting = counting;
    rows = new Rows(text);
    times = new Times(layout.time());
    size = Files.size(file);
    List<RecordingLayout.Column> columns = layout.columns();
    gauges = GaugeSet.of(columns.stream().map(RecordingLayout.Column::gauge).toList());
    conversions =
        columns.stream().map(c -> Units.of(c.kind(), c.unit())).toArray(Conversion[]::new);
    header();
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
    if (!Files.exists(file)) {
      throw new RecordingException(file + ": there is no such file");
    }
    if (Files.isDirectory(file)) {
      throw new RecordingException(file + ": is a folder; name a CSV or CSV.gz file");
    }
    if (Files.size(file) == 0) {
      throw new RecordingException(file + ": is empty; a recording starts with a header row");
    }
    Counting counting = new Counting(Files.newInputStream(file));
    try {
      InputStream in = new BufferedInputStream(counting, 1 << 16);
      in.mark(4);
      int first = in.read();
      int second = in.read();
      in.reset();
      InputStream text = first == 0x1f && second == 0x8b ? new GZIPInputStream(in, 1 << 16) : in;
      return new RecordingFeed(file, layout, problems, counting, text);
    } catch (ZipException | EOFException e) {
      counting.close();
      throw new RecordingException(
          file + ": is a broken gzip file (" + e.getMessage() + "); copy it again", e);
    } catch (RuntimeException e) {
      counting.close();
      throw e;
    }
  }

  private void header() throws IOException {
    rows.guessSeparator();
    if (!rows.next()) {
      throw new RecordingException(file + ": has no header row");
    }
    width = rows.cells();
    Map<String, Integer> cellOf = new HashMap<>();
    for (int i = 0; i < width; i++) {
      String name = rows.text(i);
      name = i == 0 && name.startsWith("\uFEFF") ? name.substring(1) : name;
      if (name.indexOf('\0') >= 0 || name.indexOf('\uFFFD') >= 0) {
        throw new RecordingException(
            file + ": is a binary file; a recording is CSV or CSV.gz text");
      }
      cellOf.putIfAbsent(name, i);
    }
    List<String> missing = new ArrayList<>();
    timeCell = cell(cellOf, layout.time().header(), missing);
    receivedCell = cell(cellOf, layout.received(), missing);
    operationCell = cell(cellOf, layout.operation(), missing);
    List<RecordingLayout.Column> columns = layout.columns();
    valueCells = new int[columns.size()];
    qualityCells = new int[columns.size()];
    gaugeCell = -1;
    if (layout.shape() == RecordingLayout.Shape.WIDE) {
      for (int i = 0; i < columns.size(); i++) {
        valueCells[i] = cell(cellOf, columns.get(i).header(), missing);
        qualityCells[i] = cell(cellOf, columns.get(i).quality(), missing);
      }
    } else {
      gaugeCell = cell(cellOf, layout.gaugeColumn(), missing);
      Arrays.fill(valueCells, cell(cellOf, layout.valueColumn(), missing));
      Arrays.fill(qualityCells, cell(cellOf, layout.qualityColumn(), missing));
      columnOf = new HashMap<>();
      for (int i = 0; i < columns.size(); i++) {
        columnOf.put(columns.get(i).header(), i);
      }
    }
    if (!missing.isEmpty()) {
      List<String> names = new ArrayList<>(cellOf.keySet());
      names.sort(null);
      String has = String.join(", ", names);
      has = has.length() > 200 ? has.substring(0, 200) + "…" : has;
      String known = has;
      throw new RecordingException(
          String.join(
              "\n",
              missing.stream()
                  .map(
                      m ->
                          file
                              + ": has no column '"
                              + m
                              + "', which the plan's recordings section names; it has "
                              + known)
                  .toList()));
    }
  }

  private static int cell(
      Map<String, Integer> cellOf, @Nullable String name, List<String> missing) {
    if (name == null) {
      return -1;
    }
    Integer cell = cellOf.get(name);
    if (cell == null) {
      missing.add(name);
      return -1;
    }
    return cell;
  }

  @Override
  public @Nullable Telemetry next() throws IOException {
    while (ready.isEmpty()) {
      boolean more;
      try {
        more = rows.next();
      } catch (EOFException | ZipException e) {
        throw new RecordingException(
            file + ": the gzip data breaks off after line " + rows.line() + "; copy the file again",
            e);
      }
      if (!more) {
        finishGathering();
        return ready.poll();
      }
      row();
    }
    return ready.poll();
  }

  private void row() {
    if (rows.cells() != width) {
      boolean few = rows.cells() < width;
      problems.add(
          few ? Problems.Sort.SHORT_ROW : Problems.Sort.LONG_ROW,
          here() + "has " + rows.cells() + " cells, the header " + width);
    }
    long atMs;
    long rowReceivedMs;
    try {
      atMs = time(timeCell);
      rowReceivedMs =
          receivedCell < 0 || receivedCell >= rows.cells() || empty(receivedCell)
              ? atMs
              : time(receivedCell);
    } catch (DateTimeException e) {
      problems.add(Problems.Sort.BAD_TIME, here() + e.getMessage());
      return;
    }
    if (gaugeCell >= 0) {
      longRow(atMs, rowReceivedMs);
      return;
    }
    order(atMs);
    passTo(rowReceivedMs);
    operation(atMs);
    wideRow(atMs);
  }

  private void wideRow(long atMs) {
    double[] values = new double[valueCells.length];
    byte[] qualities = new byte[valueCells.length];
    boolean any = false;
    for (int i = 0; i < valueCells.length; i++) {
      values[i] = value(valueCells[i], i);
      qualities[i] = quality(qualityCells[i]);
      any |= !Double.isNaN(values[i]);
    }
    if (any) {
      ready.add(new Frame(layout.well(), atMs, receivedMs, gauges, values, qualities));
    }
  }

  private void longRow(long atMs, long rowReceivedMs) {
    Gathering g = gathering;
    if (g == null || g.atMs != atMs || g.receivedMs != rowReceivedMs) {
      finishGathering();
      order(atMs);
      g = new Gathering(atMs, rowReceivedMs, valueCells.length);
      gathering = g;
    }
    if (operationCell >= 0 && operationCell < rows.cells() && !empty(operationCell)) {
      finishGathering();
      passTo(rowReceivedMs);
      operation(atMs);
      return;
    }
    Integer column = columnOf.get(rows.text(gaugeCell));
    if (column == null) {
      problems.add(Problems.Sort.UNKNOWN_GAUGE, here() + "gauge '" + rows.text(gaugeCell) + "'");
      return;
    }
    g.values[column] = value(valueCells[column], column);
    g.qualities[column] = quality(qualityCells[column]);
  }

  private void finishGathering() {
    Gathering g = gathering;
    gathering = null;
    if (g != null) {
      passTo(g.receivedMs);
      ready.add(new Frame(layout.well(), g.atMs, receivedMs, gauges, g.values, g.qualities));
    }
  }

  private void order(long atMs) {
    if (atMs < lastAtMs) {
      problems.add(Problems.Sort.OUT_OF_ORDER, here() + (lastAtMs - atMs) / 1000.0 + " s earlier");
    } else if (atMs == lastAtMs) {
      problems.add(Problems.Sort.SAME_TIME, here() + "the same time");
    }
    lastAtMs = atMs;
  }

  /** Lets log time pass, never backwards, with a pulse at each whole second. */
  private void passTo(long toMs) {
    if (receivedMs == Long.MIN_VALUE) {
      receivedMs = toMs;
      return;
    }
    if (toMs - receivedMs > GAP_MS) {
      problems.add(
          Problems.Sort.LONG_GAP, here() + "a gap of " + (toMs - receivedMs) / 3_600_000 + " h");
      receivedMs = toMs;
      ready.add(new Pulse(layout.well(), toMs, toMs));
      return;
    }
    for (long s = Math.floorDiv(receivedMs, 1000) + 1; s * 1000 <= toMs; s++) {
      ready.add(new Pulse(layout.well(), s * 1000, s * 1000));
    }
    receivedMs = Math.max(receivedMs, toMs);
  }

  private void operation(long atMs) {
    if (operationCell < 0 || operationCell >= rows.cells() || empty(operationCell)) {
      return;
    }
    try {
      Telemetry told = Happening.read(rows.text(operationCell), layout.well(), atMs, receivedMs);
      if (told instanceof Operation o
          && !o.gauge().isEmpty()
          && !gauges.ids().contains(o.gauge())) {
        throw new IllegalArgumentException(
            "gauge '" + o.gauge() + "' is not in this recording; known are " + gauges.ids());
      }
      ready.add(told);
    } catch (IllegalArgumentException e) {
      problems.add(Problems.Sort.BAD_OPERATION, here() + e.getMessage());
    }
  }

  private double value(int cell, int column) {
    if (cell >= rows.cells()) {
      return Double.NaN;
    }
    int from = rows.from(cell);
    int to = rows.to(cell);
    if (from == to || isNaN(rows.bytes(), from, to)) {
      return Double.NaN;
    }
    try {
      return conversions[column].toBase(Decimals.parse(rows.bytes(), from, to));
    } catch (NumberFormatException e) {
      problems.add(
          Problems.Sort.BAD_NUMBER,
          here() + "'" + rows.text(cell) + "' for gauge " + gauges.ids().get(column));
      return Double.NaN;
    }
  }

  private static boolean isNaN(byte[] text, int from, int to) {
    return to - from == 3
        && (text[from] | 0x20) == 'n'
        && (text[from + 1] | 0x20) == 'a'
        && (text[from + 2] | 0x20) == 'n';
  }

  private byte quality(int cell) {
    if (cell < 0 || cell >= rows.cells() || empty(cell)) {
      return 0;
    }
    String text = rows.text(cell);
    for (Quality q : Quality.values()) {
      if (q.name().equalsIgnoreCase(text)) {
        return q.code();
      }
    }
    try { // an OPC UA status code: its top two bits are the severity (OPC 10000-4, 7.39)
      long severity = (Long.decode(text) >>> 30) & 3;
      return severity == 0
          ? Quality.GOOD.code()
          : severity == 1 ? Quality.UNCERTAIN.code() : Quality.BAD.code();
    } catch (NumberFormatException e) {
      problems.add(
          Problems.Sort.BAD_QUALITY,
          here() + "'" + text + "'; write good, uncertain, bad or a status code");
      return Quality.BAD.code();
    }
  }

  private long time(int cell) {
    if (cell >= rows.cells()) {
      throw new DateTimeException("the row has no time");
    }
    return times.parse(rows.bytes(), rows.from(cell), rows.to(cell));
  }

  private boolean empty(int cell) {
    return rows.from(cell) == rows.to(cell);
  }

  private String here() {
    return file.getFileName() + ":" + rows.line() + ": ";
  }

  /** Bytes of the file read so far. */
  public long bytesRead() {
    return counting.read;
  }

  /** Bytes in the file. */
  public long size() {
    return size;
  }

  @Override
  public void close() throws IOException {
    counting.close();
  }

  /** Long rows of one time, still being gathered. */
  private static final class Gathering {
    final long atMs;
    final long receivedMs;
    final double[] values;
    final byte[] qualities;

    Gathering(long atMs, long receivedMs, int columns) {
      this.atMs = atMs;
      this.receivedMs = receivedMs;
      values = new double[columns];
      Arrays.fill(values, Double.NaN);
      qualities = new byte[columns];
    }
  }

  /** Counts the bytes taken from the file. */
  private static final class Counting extends FilterInputStream {
    private volatile long read;

    Counting(InputStream in) {
      super(in);
    }

    @Override
    public int read(byte[] b, int off, int len) throws IOException {
      int n = super.read(b, off, len);
      if (n > 0) {
        long before = read;
        read = before + n;
      }
      return n;
    }
  }
}

package stillwatch.ingest.recording;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.unit.Conversion;
import stillwatch.ingest.unit.Units;

/**
 * Reads the rows of a separated text as a layout says. A row whose time cannot be read is noted and
 * left out, a cell that cannot be read is noted and empty. Not thread-safe.
 */
final class RowReader implements RowSource {
  private final Path file;
  private final RecordingLayout layout;
  private final Problems problems;
  private final Rows rows;
  private final Times times;
  private final GaugeSet gauges;
  private final Conversion[] conversions;
  private final long leftOut;

  private int width;
  private int timeCell;
  private int receivedCell;
  private int operationCell;
  private int gaugeCell;
  private int[] valueCells = new int[0];
  private int[] qualityCells = new int[0];
  private Map<String, Integer> columnOf = Map.of();

  /**
   * Reads the header.
   *
   * @param file the file's name, for what is told
   * @throws RecordingException when a column lacks, or this is no text
   */
  RowReader(Path file, RecordingLayout layout, Problems problems, InputStream text)
      throws IOException {
    this(file, layout, problems, text, 0);
  }

  /** Reads the header of a text that lacks so many lines of the file after it. */
  RowReader(Path file, RecordingLayout layout, Problems problems, InputStream text, long leftOut)
      throws IOException {
    this.leftOut = leftOut;
    this.file = file;
    this.layout = layout;
    this.problems = problems;
    rows = new Rows(text);
    times = new Times(layout.time());
    List<RecordingLayout.Column> columns = layout.columns();
    gauges = GaugeSet.of(layout.gauges());
    conversions =
        columns.stream().map(c -> Units.of(c.kind(), c.unit())).toArray(Conversion[]::new);
    header();
  }

  @Override
  public GaugeSet gauges() {
    return gauges;
  }

  @Override
  public long line() {
    return rows.line() + leftOut;
  }

  private void header() throws IOException {
    rows.guessSeparator();
    if (!rows.next()) {
      throw new RecordingException(file + ": has no header row");
    }
    width = rows.cells();
    Map<String, Integer> cellOf = names();
    List<String> missing = new ArrayList<>();
    timeCell = cell(cellOf, layout.time().header(), missing);
    receivedCell = cell(cellOf, layout.received(), missing);
    operationCell = cell(cellOf, layout.operation(), missing);
    valueCells = new int[layout.columns().size()];
    qualityCells = new int[layout.columns().size()];
    gaugeCell = -1;
    if (layout.shape() == RecordingLayout.Shape.WIDE) {
      wideHeader(cellOf, missing);
    } else {
      longHeader(cellOf, missing);
    }
    if (!missing.isEmpty()) {
      throw lacks(missing, cellOf);
    }
  }

  private void wideHeader(Map<String, Integer> cellOf, List<String> missing) {
    List<RecordingLayout.Column> columns = layout.columns();
    for (int i = 0; i < columns.size(); i++) {
      valueCells[i] = cell(cellOf, columns.get(i).header(), missing);
      qualityCells[i] = cell(cellOf, columns.get(i).quality(), missing);
    }
  }

  private void longHeader(Map<String, Integer> cellOf, List<String> missing) {
    gaugeCell = cell(cellOf, layout.gaugeColumn(), missing);
    Arrays.fill(valueCells, cell(cellOf, layout.valueColumn(), missing));
    Arrays.fill(qualityCells, cell(cellOf, layout.qualityColumn(), missing));
    List<RecordingLayout.Column> columns = layout.columns();
    columnOf = new HashMap<>();
    for (int i = 0; i < columns.size(); i++) {
      columnOf.put(columns.get(i).header(), i);
    }
  }

  /** The cell of each name in the header. */
  private Map<String, Integer> names() {
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
    return cellOf;
  }

  private RecordingException lacks(List<String> missing, Map<String, Integer> cellOf) {
    List<String> names = new ArrayList<>(cellOf.keySet());
    names.sort(null);
    String has = String.join(", ", names);
    String known = has.length() > 200 ? has.substring(0, 200) + "…" : has;
    return new RecordingException(
        String.join(
            "\n",
            missing.stream()
                .map(
                    m ->
                        file
                            + ": has no column '"
                            + m
                            + "', which the plan names for it; it has "
                            + known)
                .toList()));
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
  public @Nullable Row next() throws IOException {
    while (rows.next()) {
      if (rows.cells() != width) {
        boolean few = rows.cells() < width;
        problems.add(
            few ? Problems.Sort.SHORT_ROW : Problems.Sort.LONG_ROW,
            here() + "has " + rows.cells() + " cells, the header " + width);
      }
      try {
        return row();
      } catch (DateTimeException e) {
        problems.add(Problems.Sort.BAD_TIME, here() + e.getMessage());
      }
    }
    return null;
  }

  private Row row() {
    long atMs = time(timeCell);
    long receivedMs = said(receivedCell) ? time(receivedCell) : Row.UNSTATED;
    String operation = said(operationCell) ? rows.text(operationCell) : "";
    if (gaugeCell >= 0) {
      return longRow(atMs, receivedMs, operation);
    }
    double[] values = new double[valueCells.length];
    byte[] qualities = new byte[valueCells.length];
    for (int i = 0; i < valueCells.length; i++) {
      values[i] = value(valueCells[i], i);
      qualities[i] = quality(qualityCells[i]);
    }
    return new Row(line(), atMs, receivedMs, operation, Row.NO_GAUGE, values, qualities);
  }

  private Row longRow(long atMs, long receivedMs, String operation) {
    double[] values = {Double.NaN};
    byte[] qualities = {0};
    Integer column = operation.isEmpty() ? columnOf.get(rows.text(gaugeCell)) : null;
    if (column != null) {
      values[0] = value(valueCells[column], column);
      qualities[0] = quality(qualityCells[column]);
    } else if (operation.isEmpty()) {
      problems.add(Problems.Sort.UNKNOWN_GAUGE, here() + "gauge '" + rows.text(gaugeCell) + "'");
    }
    return new Row(
        line(),
        atMs,
        receivedMs,
        operation,
        column == null ? Row.NO_GAUGE : column,
        values,
        qualities);
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
    if (!said(cell)) {
      return 0;
    }
    return QualityText.code(rows.text(cell), problems, this::here);
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

  /** Whether the row has this cell and it is not empty. */
  private boolean said(int cell) {
    return cell >= 0 && cell < rows.cells() && !empty(cell);
  }

  private String here() {
    return file.getFileName() + ":" + line() + ": ";
  }
}

package stillwatch.ingest.recording;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.unit.Conversion;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.Units;

/**
 * Reads the rows of a LAS 2.0 file as a layout says: a gauge's column is the curve with that
 * mnemonic. Values are converted from the curve's unit. A row whose time cannot be read, or that
 * cannot be told from the next, is noted and left out. Not thread-safe.
 */
final class LasReader implements RowSource {
  private static final Pattern BLANKS = Pattern.compile("[ \t]+");

  private final LasLines lines;
  private final LasHeader header;
  private final RecordingLayout layout;
  private final Problems problems;
  private final LasIndex index;
  private final GaugeSet gauges;
  private final Conversion[] conversions;
  private final int[] columns;
  private final int[] qualities;
  private final int width;
  private final boolean wrapped;
  private final double none;
  private long line;
  private boolean broken;

  /**
   * Reads the header.
   *
   * @throws RecordingException when it is no LAS file of this layout, in a sentence
   */
  LasReader(Path file, RecordingLayout layout, Problems problems, InputStream text)
      throws IOException {
    lines = new LasLines(file, text);
    header = LasHeader.read(file, lines);
    this.layout = layout;
    this.problems = problems;
    wrapped = header.wrapped();
    none = header.none();
    width = header.curves().size();
    index = new LasIndex(file, header, layout.time());
    List<RecordingLayout.Column> named = layout.columns();
    gauges = GaugeSet.of(layout.gauges());
    columns = named.stream().mapToInt(c -> header.column(c.header())).toArray();
    qualities = named.stream().mapToInt(c -> header.column(c.quality())).toArray();
    checkColumns(file);
    conversions = new Conversion[columns.length];
    for (int i = 0; i < columns.length; i++) {
      conversions[i] = conversion(named.get(i), header.curves().get(columns[i]));
    }
  }

  /** Whether a file of that name is one of these. */
  static boolean named(Path file) {
    return String.valueOf(file.getFileName()).matches("(?i).*\\.las(\\.gz)?");
  }

  private void checkColumns(Path file) {
    String missing =
        layout.columns().stream()
            .flatMap(c -> Stream.of(Optional.of(c.header()), Optional.ofNullable(c.quality())))
            .flatMap(Optional::stream)
            .filter(name -> header.column(name) < 0)
            .map(name -> "'" + name + "'")
            .collect(Collectors.joining(", "));
    if (!missing.isEmpty()) {
      throw new RecordingException(
          "%s: has no curve %s, which the plan names for it; it has %s"
              .formatted(
                  file,
                  missing,
                  header.curves().stream()
                      .map(LasItem::mnemonic)
                      .collect(Collectors.joining(", "))));
    }
  }

  /**
   * From the unit that the file states; where it states none, or none that is known, the plan's.
   */
  private Conversion conversion(RecordingLayout.Column column, LasItem curve) {
    String stated = curve.unit();
    Optional<String> unit = LasUnits.ucum(column.kind(), stated);
    boolean decibel = column.kind() == Kind.SOUND;
    if (unit.isEmpty() && LasUnits.known(stated) && !decibel) {
      throw new RecordingException(
          "%sthe curve %s is in %s, but the gauge %s measures %s; correct 'columns' under 'recordings' in the plan"
              .formatted(
                  header.at(curve),
                  curve.mnemonic(),
                  stated,
                  column.gauge(),
                  column.kind().wire()));
    }
    boolean contradicts = unit.isPresent() && !unit.get().equals(column.unit());
    if (column.stated() && contradicts) {
      throw new RecordingException(
          "%sthe curve %s is in %s, but the plan says %s; correct one of them"
              .formatted(header.at(curve), curve.mnemonic(), stated, column.unit()));
    }
    if (unit.isEmpty() && !stated.isEmpty() && !column.stated() && !decibel) {
      throw new RecordingException(
          "%sthe unit %s of the curve %s is not known; say 'unit' for it in 'columns' under 'recordings' in the plan"
              .formatted(header.at(curve), stated, curve.mnemonic()));
    }
    return Units.of(column.kind(), unit.orElse(column.unit()));
  }

  @Override
  public GaugeSet gauges() {
    return gauges;
  }

  @Override
  public long line() {
    return line;
  }

  @Override
  public @Nullable Row next() throws IOException {
    for (String text = lines.next(); text != null && !broken; text = lines.next()) {
      line = lines.line();
      String[] cells = wrapped ? unwrap(text) : BLANKS.split(text, -1);
      if (cells.length != 0) {
        if (cells.length != width) {
          boolean few = cells.length < width;
          problems.add(
              few ? Problems.Sort.SHORT_ROW : Problems.Sort.LONG_ROW,
              here() + "has " + cells.length + " values, the curves are " + width);
          cells = Arrays.copyOf(cells, width);
        }
        try {
          return row(cells);
        } catch (DateTimeException e) {
          problems.add(Problems.Sort.BAD_TIME, here() + e.getMessage());
        }
      }
    }
    return null;
  }

  /**
   * The values of a row that begins with this line, on which its index stands alone. Empty where
   * it, or the line after it, shows that lines are lacking: its values may be another gauge's.
   */
  private String[] unwrap(String first) throws IOException {
    String[] cells = BLANKS.split(first, -1);
    boolean whole = cells.length == 1;
    while (whole && cells.length < width && lines.peek() != null) {
      String[] more = BLANKS.split(String.valueOf(lines.next()), -1);
      int before = cells.length;
      cells = Arrays.copyOf(cells, before + more.length);
      System.arraycopy(more, 0, cells, before, more.length);
    }
    String after = lines.peek();
    whole &= cells.length == width && (after == null || BLANKS.split(after, -1).length == 1);
    if (!whole) {
      broken = true; // which line is an index nobody can tell any more
      problems.add(
          Problems.Sort.BROKEN_WRAP,
          here() + "the lines from here on are not an index and " + (width - 1) + " values");
    }
    return whole ? cells : new String[0];
  }

  private Row row(String[] cells) {
    long atMs = index.ms(cells);
    double[] values = new double[columns.length];
    byte[] codes = new byte[columns.length];
    for (int i = 0; i < columns.length; i++) {
      values[i] = value(cells[columns[i]], i);
      codes[i] = quality(qualities[i] < 0 ? null : cells[qualities[i]]);
    }
    return new Row(line, atMs, Row.UNSTATED, "", Row.NO_GAUGE, values, codes);
  }

  private double value(@Nullable String cell, int gauge) {
    if (cell == null || cell.equalsIgnoreCase("nan")) {
      return Double.NaN;
    }
    byte[] text = cell.getBytes(StandardCharsets.UTF_8);
    try {
      double number = Decimals.parse(text, 0, text.length);
      return number == none ? Double.NaN : conversions[gauge].toBase(number);
    } catch (NumberFormatException e) {
      problems.add(
          Problems.Sort.BAD_NUMBER, here() + "'" + cell + "' for gauge " + gauges.ids().get(gauge));
      return Double.NaN;
    }
  }

  private byte quality(@Nullable String cell) {
    return cell == null
        ? Quality.GOOD.code()
        : QualityText.code(cell.replaceFirst("\\.0*$", ""), problems, this::here);
  }

  private String here() {
    return lines.at(line);
  }
}

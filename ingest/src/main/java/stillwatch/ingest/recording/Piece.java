package stillwatch.ingest.recording;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.SequenceInputStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;

/**
 * Whole lines out of a file that may grow, read as a recording's are.
 *
 * @param file the file's name, for what is told
 * @param header its header line
 * @param lines whole lines, none before the header's end
 * @param before how many lines of the file come before these, the header among them
 */
public record Piece(Path file, byte[] header, byte[] lines, long before) {
  /** Takes what the rows say. */
  public interface Taking {
    /**
     * A row whose time can be read.
     *
     * @param atMs the source's time, ms since 1970 UTC
     * @param frame what its gauges say, received at 0; null where none says anything
     */
    void row(long line, long atMs, @Nullable Frame frame);

    /** Something that is wrong in the row of that line, told before the row itself. */
    void wrong(long line, Problems.Sort sort, String why);
  }

  /** The layout's gauges that have no column under this header. */
  public static List<RecordingLayout.Column> lacking(byte[] header, RecordingLayout layout)
      throws IOException {
    if (layout.shape() == RecordingLayout.Shape.LONG) {
      return List.of();
    }
    Rows rows = new Rows(new ByteArrayInputStream(header));
    rows.guessSeparator();
    List<String> names = new ArrayList<>();
    if (rows.next()) {
      for (int i = 0; i < rows.cells(); i++) {
        names.add(rows.text(i));
      }
    }
    return layout.columns().stream().filter(c -> !names.contains(c.header())).toList();
  }

  /**
   * Reads them.
   *
   * @throws RecordingException when the header lacks a column of the layout
   */
  public void read(RecordingLayout layout, Taking taking) throws IOException {
    RowReader[] of = new RowReader[1];
    Problems problems =
        new Problems((sort, why) -> taking.wrong(of[0] == null ? before : of[0].line(), sort, why));
    RowReader reader =
        new RowReader(
            file,
            layout,
            problems,
            new SequenceInputStream(
                new SequenceInputStream(
                    new ByteArrayInputStream(header), new ByteArrayInputStream(new byte[] {'\n'})),
                new ByteArrayInputStream(lines)),
            before - 1);
    of[0] = reader;
    for (Row row = reader.next(); row != null; row = reader.next()) {
      if (!row.operation().isEmpty()) {
        taking.wrong(
            row.line(),
            Problems.Sort.BAD_OPERATION,
            file.getFileName()
                + ":"
                + row.line()
                + ": what was done is not taken from a source of readings; enter it in the room");
      }
      taking.row(row.line(), row.atMs(), frame(row, layout, reader.gauges()));
    }
  }

  private static @Nullable Frame frame(Row row, RecordingLayout layout, GaugeSet all) {
    boolean wide = layout.shape() == RecordingLayout.Shape.WIDE;
    if (!wide && row.column() == Row.NO_GAUGE) {
      return null;
    }
    GaugeSet gauges = wide ? all : GaugeSet.of(all.ids().get(row.column()));
    return new Frame(layout.well(), row.atMs(), 0, gauges, row.values(), row.qualities());
  }
}

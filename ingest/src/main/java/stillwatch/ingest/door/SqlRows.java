package stillwatch.ingest.door;

import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.ResultSetMetaData;
import java.sql.SQLException;
import java.sql.Types;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.recording.RecordingException;
import stillwatch.ingest.recording.RecordingLayout;
import stillwatch.ingest.recording.RecordingLayout.TimeColumn;
import stillwatch.ingest.recording.RecordingLayout.TimeFormat;

/**
 * The rows of a database's answer, written as a file of a logger has them, so that a layout reads
 * both alike.
 */
final class SqlRows {
  private static final int LONGEST_CELL = 4000;

  private final RecordingLayout layout;
  private final List<String> names = new ArrayList<>();
  private final TimeKind kind;
  private final int timeColumn;

  private enum TimeKind {
    INSTANT,
    LOCAL,
    NUMBER
  }

  /**
   * Of answers with these columns.
   *
   * @param planned what the plan says of them
   * @throws RecordingException when the column of the time is not there, or is no time
   */
  SqlRows(ResultSetMetaData columns, String source, RecordingLayout planned) throws SQLException {
    int time = 0;
    for (int i = 1; i <= columns.getColumnCount(); i++) {
      names.add(columns.getColumnLabel(i));
      time = columns.getColumnLabel(i).equals(planned.time().header()) ? i : time;
    }
    if (time == 0) {
      throw new RecordingException(
          source
              + ": the query gives no column '"
              + planned.time().header()
              + "', where the plan has the time; it gives "
              + String.join(", ", names));
    }
    timeColumn = time;
    kind = kind(columns, time, source, planned.time());
    layout = kind == TimeKind.NUMBER ? planned : planned.timedBy(rfc3339(planned.time()));
  }

  private static TimeColumn rfc3339(TimeColumn of) {
    return new TimeColumn(of.header(), TimeFormat.RFC3339, null, of.zone());
  }

  private static TimeKind kind(ResultSetMetaData columns, int time, String source, TimeColumn said)
      throws SQLException {
    int type = columns.getColumnType(time);
    if (type == Types.TIMESTAMP_WITH_TIMEZONE
        || columns.getColumnTypeName(time).equalsIgnoreCase("timestamptz")) {
      return TimeKind.INSTANT;
    }
    if (type == Types.TIMESTAMP) {
      return TimeKind.LOCAL;
    }
    boolean number =
        List.of(Types.BIGINT, Types.INTEGER, Types.NUMERIC, Types.DECIMAL, Types.DOUBLE)
            .contains(type);
    if (number && (said.format() == TimeFormat.EPOCH_S || said.format() == TimeFormat.EPOCH_MS)) {
      return TimeKind.NUMBER;
    }
    throw new RecordingException(
        source
            + ": the column '"
            + said.header()
            + "' is of type "
            + columns.getColumnTypeName(time)
            + "; cast it to a timestamp in the query, or say format epoch-s or epoch-ms of a number");
  }

  /** How {@link #row} writes them. */
  RecordingLayout layout() {
    return layout;
  }

  /** Asks for rows from that time on, ms since 1970 UTC. */
  void ask(PreparedStatement query, long fromMs) throws SQLException {
    Instant from = Instant.ofEpochMilli(fromMs);
    switch (kind) {
      case INSTANT -> query.setObject(1, from.atOffset(ZoneOffset.UTC));
      case LOCAL -> query.setObject(1, LocalDateTime.ofInstant(from, zone()));
      case NUMBER ->
          query.setBigDecimal(
              1,
              layout.time().format() == TimeFormat.EPOCH_MS
                  ? BigDecimal.valueOf(fromMs)
                  : BigDecimal.valueOf(fromMs, 3));
    }
  }

  private ZoneId zone() {
    return layout.time().zone();
  }

  /** The header line. */
  byte[] header() {
    return line(names).getBytes(StandardCharsets.UTF_8);
  }

  /** What the present row of an answer says; of one without a time the time is 0. */
  TakenRows.Row row(ResultSet answer) throws SQLException {
    List<String> cells = new ArrayList<>(names.size());
    long atMs = 0;
    for (int i = 1; i <= names.size(); i++) {
      if (i == timeColumn && kind != TimeKind.NUMBER) {
        Instant at = time(answer);
        atMs = at == null ? 0 : within(at);
        cells.add(at == null ? "" : at.toString());
      } else {
        String cell = answer.getString(i);
        cells.add(cell == null ? "" : cell);
        atMs = i == timeColumn ? number(cell) : atMs;
      }
    }
    return new TakenRows.Row(atMs, line(cells));
  }

  private @Nullable Instant time(ResultSet answer) throws SQLException {
    if (kind == TimeKind.INSTANT) {
      OffsetDateTime at = answer.getObject(timeColumn, OffsetDateTime.class);
      return at == null ? null : at.toInstant();
    }
    LocalDateTime at = answer.getObject(timeColumn, LocalDateTime.class);
    return at == null ? null : at.atZone(zone()).toInstant();
  }

  private static long within(Instant at) {
    try {
      return Math.max(0, Math.min(Messages.LATEST_MS, at.toEpochMilli()));
    } catch (ArithmeticException | DateTimeException e) {
      return Messages.LATEST_MS; // how a database writes that something never ends
    }
  }

  private long number(@Nullable String cell) {
    try {
      double said = cell == null ? 0 : Double.parseDouble(cell);
      double ms = layout.time().format() == TimeFormat.EPOCH_MS ? said : said * 1000;
      return Math.max(0, Math.min(Messages.LATEST_MS, (long) Math.floor(ms + 1e-3)));
    } catch (NumberFormatException e) {
      return 0; // refused where the row is read
    }
  }

  private static String line(List<String> cells) {
    StringBuilder line = new StringBuilder();
    for (String cell : cells) {
      String text = cell.length() > LONGEST_CELL ? cell.substring(0, LONGEST_CELL) : cell;
      line.append(line.isEmpty() ? "" : ",");
      line.append('"').append(text.replaceAll("[\\r\\n]", " ").replace("\"", "\"\"")).append('"');
    }
    return line.toString();
  }
}

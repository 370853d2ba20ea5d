package stillwatch.ingest.recording;

import java.time.ZoneId;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Kind;

/**
 * Where a recording keeps what: the plan's mapping from columns to gauges.
 *
 * @param well the well the rows are about
 * @param shape a column a gauge, or a row a reading
 * @param time the column with the source's time
 * @param received the column with the time of reception, in the same form; null where the recording
 *     has none
 * @param operation the column with operations, each cell empty or {@code kind: text}, for example
 *     {@code closure-step: choke part-turn 3 of 6}; null where there is none
 * @param columns the gauges; in the long shape {@link Column#header()} is the text in the gauge
 *     column
 * @param gaugeColumn the column naming the gauge, long shape only
 * @param valueColumn the column with the value, long shape only
 * @param qualityColumn the column with the quality, long shape only; null where there is none
 */
public record RecordingLayout(
    String well,
    Shape shape,
    TimeColumn time,
    @Nullable String received,
    @Nullable String operation,
    List<Column> columns,
    @Nullable String gaugeColumn,
    @Nullable String valueColumn,
    @Nullable String qualityColumn) {

  /** The ids of its gauges, in order. */
  public List<String> gauges() {
    return columns.stream().map(Column::gauge).toList();
  }

  /** The same without these gauges. */
  public RecordingLayout without(List<Column> gauges) {
    return new RecordingLayout(
        well,
        shape,
        time,
        received,
        operation,
        columns.stream().filter(c -> !gauges.contains(c)).toList(),
        gaugeColumn,
        valueColumn,
        qualityColumn);
  }

  /** The same for a LAS file: a curve a gauge, and nothing but readings. */
  RecordingLayout ofCurves() {
    return new RecordingLayout(well, Shape.WIDE, time, null, null, columns, null, null, null);
  }

  /** The same with its time written otherwise. */
  public RecordingLayout timedBy(TimeColumn other) {
    return new RecordingLayout(
        well, shape, other, received, operation, columns, gaugeColumn, valueColumn, qualityColumn);
  }

  /** How rows are laid out. */
  public enum Shape {
    /** A column a gauge. */
    WIDE,
    /** A row a reading. */
    LONG
  }

  /** How times are written. */
  public enum TimeFormat {
    RFC3339,
    EPOCH_S,
    EPOCH_MS,
    /** A {@link java.time.format.DateTimeFormatter} pattern read in a declared zone. */
    PATTERN
  }

  /**
   * The time column.
   *
   * @param pattern set only for {@link TimeFormat#PATTERN}
   * @param zone the zone of times that state none
   */
  public record TimeColumn(
      String header, TimeFormat format, @Nullable String pattern, ZoneId zone) {}

  /**
   * One gauge's place in the recording.
   *
   * @param header the column's header
   * @param gauge the gauge's id
   * @param kind what it measures
   * @param unit the UCUM code of the values in the column
   * @param quality the column with this gauge's quality; null where there is none
   * @param stated whether the plan states the unit for this column; else it is the gauge's, and a
   *     file may state another
   */
  public record Column(
      String header,
      String gauge,
      Kind kind,
      String unit,
      @Nullable String quality,
      boolean stated) {
    /** One whose unit is stated. */
    public Column(String header, String gauge, Kind kind, String unit, @Nullable String quality) {
      this(header, gauge, kind, unit, quality, true);
    }
  }
}

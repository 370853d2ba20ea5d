package stillwatch.ingest.recording;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.ZoneId;
import java.util.Optional;
import stillwatch.ingest.recording.RecordingLayout.TimeColumn;
import stillwatch.ingest.recording.RecordingLayout.TimeFormat;

/**
 * When a row of a LAS file was, from its index: the first curve. An index in a unit of time is
 * counted from the moment that the items DATE, and perhaps TIME, of ~Well or ~Parameter say. Where
 * DATE and TIME are curves, both together are the time. Any other index is a time as the plan says
 * it is written.
 */
final class LasIndex {
  private final Times times;
  private final int date;
  private final int time;
  private final boolean elapsed;
  private final double unitMs;
  private final long startMs;

  /**
   * That of a file.
   *
   * @throws RecordingException when it cannot be a time
   */
  LasIndex(Path file, LasHeader header, TimeColumn plan) {
    LasItem first = header.curves().get(0);
    int dated = header.column("DATE");
    int timed = header.column("TIME");
    boolean both = dated >= 0 && timed >= 0 && Math.min(dated, timed) == 0;
    date = both ? dated : -1;
    time = both ? timed : 0;
    boolean epoch = plan.format() == TimeFormat.EPOCH_S || plan.format() == TimeFormat.EPOCH_MS;
    Optional<Double> unit = LasUnits.seconds(first.unit());
    if (!both && first.key().matches("DEPTH?|DEPT|TVD.*|MD")) {
      throw new RecordingException(
          header.at(first)
              + "the file is indexed by "
              + first.mnemonic()
              + ", a depth; a recording is indexed by time");
    }
    elapsed = !both && !epoch && unit.isPresent();
    unitMs = unit.orElse(1.0) * 1000;
    startMs = elapsed ? start(file, header, first, plan.zone()) : 0;
    times = new Times(plan);
  }

  private static long start(Path file, LasHeader header, LasItem index, ZoneId zone) {
    LasItem day =
        header
            .said("DATE")
            .orElseThrow(
                () ->
                    new RecordingException(
                        "%s: does not say when its index %s is 0; write DATE. 2026-03-08T06:00:00Z : START into ~Well"
                            .formatted(file, index.mnemonic())));
    String said = day.data() + header.said("TIME").map(t -> " " + t.data()).orElse("");
    byte[] text = said.getBytes(StandardCharsets.UTF_8);
    try {
      return new Times(new TimeColumn("DATE", TimeFormat.RFC3339, null, zone))
          .parse(text, 0, text.length);
    } catch (DateTimeException e) {
      throw new RecordingException(
          "%s'%s' does not say the moment at which the index %s is 0; write it like 2026-03-08T06:00:00Z"
              .formatted(header.at(day), said, index.mnemonic()),
          e);
    }
  }

  /**
   * The time of a row, ms since 1970 UTC.
   *
   * @throws DateTimeException when it cannot be read
   */
  long ms(String[] cells) {
    if (elapsed) {
      try {
        double ms = Double.parseDouble(cells[0]) * unitMs;
        if (Math.abs(ms) < 1e15) {
          return startMs + Math.round(ms);
        }
      } catch (NumberFormatException e) {
        // told below
      }
      throw new DateTimeException("'" + cells[0] + "' is no time");
    }
    String said = date < 0 ? cells[time] : cells[date] + " " + cells[time];
    byte[] text = said.getBytes(StandardCharsets.UTF_8);
    return times.parse(text, 0, text.length);
  }
}

package stillwatch.ingest.door;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.regex.PatternSyntaxException;
import stillwatch.ingest.recording.RecordingLayout.TimeFormat;

/**
 * Readings in lines of text that somebody sends without being asked.
 *
 * @param link where they come from
 * @param sentences whether each begins with $ or ! and ends with * and its checksum, as those of
 *     IEC 61162-1 do
 * @param separator stands between the fields of a line
 * @param readings what lines say; one may say several
 */
public record LinesPlan(Link link, boolean sentences, String separator, List<Said> readings)
    implements SourcePlan.Way {
  @Override
  public List<String> gauges() {
    return readings.stream().map(Said::gauge).distinct().toList();
  }

  /** Where lines come from. */
  public sealed interface Link permits Connect, Listen, Device {}

  /** It connects to whoever sends them. */
  public record Connect(String host, int port) implements Link {}

  /**
   * Whoever sends them connects here.
   *
   * @param from the addresses that may; empty for all of this machine
   */
  public record Listen(String host, int port, Set<String> from) implements Link {}

  /** A serial line, set up by the system, or a pipe. */
  public record Device(Path path) implements Link {}

  /**
   * A reading that a line says. Fields are counted from 1; in a sentence from the one after its
   * address.
   *
   * @param pattern found in a line that says it
   * @param value the field with its value
   * @param time the field with its time; 0 where it counts as made when it came
   * @param timeFormat how the time is written: RFC 3339, or seconds or ms since 1970 UTC
   * @param quality the field with good, uncertain or bad; 0 where all are good
   * @param unit the UCUM code of the values; empty for the gauge's own
   */
  public record Said(
      Pattern pattern,
      String gauge,
      int value,
      int time,
      TimeFormat timeFormat,
      int quality,
      String unit) {}

  /** Why this is no pattern; empty when it is one. */
  public static Optional<String> faultOf(String pattern) {
    try {
      var unused = Pattern.compile(pattern);
      return Optional.empty();
    } catch (PatternSyntaxException e) {
      return Optional.of(
          "'"
              + pattern
              + "' is no pattern: "
              + e.getDescription()
              + "; write it like XDR,P,.*,CAP1$");
    }
  }
}

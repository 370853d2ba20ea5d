package stillwatch.ingest.door;

import java.time.Duration;
import java.util.Optional;
import stillwatch.ingest.unit.Kind;

/**
 * The plan around one source while the source is read: what it may ask, and where its mistakes are
 * told. A place in the source is a JSON pointer from it, such as {@code /gauges/0/unit}.
 */
public interface SourceReading {
  /** The id of the plan's well. */
  String well();

  /** The name of the source. */
  String name();

  /** A mistake at this place; the sentence names what is wrong and how to mend it. */
  void fault(String at, String message);

  /**
   * What the gauge with this id measures. A mistake where the plan has no such gauge, or its kind
   * has no such unit.
   *
   * @param unit a UCUM code; empty for the unit that the plan states for the gauge
   * @param at where the gauge is named
   */
  Optional<Kind> gauge(String id, String unit, String at);

  /** The duration at this place of the source; what is given otherwise where none stands there. */
  Duration duration(String key, Duration otherwise);
}

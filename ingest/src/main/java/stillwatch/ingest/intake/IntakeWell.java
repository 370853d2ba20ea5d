package stillwatch.ingest.intake;

import java.time.Duration;
import java.util.Map;
import java.util.TreeSet;
import stillwatch.ingest.intake.Refusal.Reason;
import stillwatch.ingest.unit.Conversion;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.Units;

/**
 * A well the intake takes telemetry for.
 *
 * @param id the well's id
 * @param gauges its gauges by id
 * @param ahead how far ahead of its reception an entry may be stamped
 */
public record IntakeWell(String id, Map<String, Gauge> gauges, Duration ahead) {
  /** That it has no gauge of this name, and which it has. */
  RefusalException lacks(String gauge) {
    return new RefusalException(
        Reason.UNKNOWN_GAUGE,
        "the plan of %s has no gauge '%s'; known are %s"
            .formatted(id, gauge, new TreeSet<>(gauges.keySet())));
  }

  /**
   * A gauge as its live source speaks.
   *
   * @param kind what it measures
   * @param unit the UCUM code its values have where a message states none
   */
  public record Gauge(Kind kind, String unit) {
    /**
     * The conversion of a value to the base unit.
     *
     * @param stated the unit the message states; empty when it states none
     * @throws stillwatch.ingest.unit.UnitException when the unit does not fit the kind
     */
    Conversion conversion(String stated) {
      return Units.of(kind, stated.isEmpty() ? unit : stated);
    }
  }
}

package stillwatch.ingest.door;

/**
 * One value of one gauge, as its source says it.
 *
 * @param atMs when it was so, ms since 1970 UTC
 * @param value NaN where it has none; its quality is then bad
 * @param quality good, uncertain or bad
 * @param unit the UCUM code of the value; empty for the one that the plan states for the gauge
 */
public record Reading(String gauge, long atMs, double value, String quality, String unit) {
  /** A good one in the unit that the plan states for the gauge. */
  public Reading(String gauge, long atMs, double value) {
    this(gauge, atMs, value, "good", "");
  }
}

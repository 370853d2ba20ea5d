package stillwatch.ingest.unit;

/**
 * From a source's unit to the base unit of its kind: {@code base = value × factor + offset}.
 *
 * @param factor base units per source unit
 * @param offset base units at zero of the source unit
 */
public record Conversion(double factor, double offset) {
  /** The value in the base unit. */
  public double toBase(double value) {
    return value * factor + offset;
  }

  /** The base value in the source's unit. */
  public double fromBase(double base) {
    return (base - offset) / factor;
  }
}

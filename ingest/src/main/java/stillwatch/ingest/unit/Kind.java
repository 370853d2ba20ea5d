package stillwatch.ingest.unit;

import java.util.Locale;

/** What a gauge measures; each kind has one unit inside Stillwatch. */
public enum Kind {
  /** Absolute pressure, kPa. */
  PRESSURE("kPa"),
  /** Temperature, degrees Celsius (UCUM {@code Cel}). */
  TEMPERATURE("Cel"),
  /**
   * Band sound level, dB re 1 µPa. UCUM has no such unit ({@code B[SPL]} is referenced to air), so
   * it is spelled out.
   */
  SOUND("dB re 1 uPa"),
  /** Tilt from vertical, degrees of arc. */
  TILT("deg"),
  /** Volume flow rate, cubic metres a day. */
  FLOW("m3/d");

  private final String baseUnit;
  private final String wire = name().toLowerCase(Locale.ROOT);

  Kind(String baseUnit) {
    this.baseUnit = baseUnit;
  }

  /** The unit all values of this kind have inside, as a UCUM code where UCUM has one. */
  public String baseUnit() {
    return baseUnit;
  }

  /** The name in plans and on the wire, for example {@code pressure}. */
  public String wire() {
    return wire;
  }
}

package stillwatch.ingest.unit;

/** What a quantity in a plan is; each has one base unit inside Stillwatch. */
public enum Dimension {
  PRESSURE("kPa"),
  PRESSURE_RATE("kPa/h"),
  TEMPERATURE("Cel"),
  TEMPERATURE_RATE("K/h"),
  SOUND("dB re 1 uPa"),
  /** A difference of sound levels. */
  SOUND_DIFFERENCE("dB"),
  TILT("deg"),
  FLOW("m3/d"),
  LENGTH("m"),
  /** Pressure gradient of a standing fluid. */
  GRADIENT("kPa/m"),
  DURATION("s"),
  /** A pure number, a share or a count. */
  NUMBER("1");

  private final String baseUnit;

  Dimension(String baseUnit) {
    this.baseUnit = baseUnit;
  }

  /** The unit values of this dimension have inside, as a UCUM code where UCUM has one. */
  public String baseUnit() {
    return baseUnit;
  }
}

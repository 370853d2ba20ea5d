package stillwatch.ingest.unit;

/** What a quantity in a plan is; each has one base unit inside Stillwatch. */
public enum Dimension {
  PRESSURE("kPa"),
  PRESSURE_RATE("kPa/h"),
  TEMPERATURE("Cel"),
  /** A difference of temperatures: where a unit's zero lies does not matter. */
  TEMPERATURE_DIFFERENCE("K"),
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
  DENSITY("kg/m3"),
  VOLUME("m3"),
  /** Dynamic viscosity. */
  VISCOSITY("mPa.s"),
  /** Share of volume by pressure. */
  COMPRESSIBILITY("/kPa"),
  /** Share of volume by temperature. */
  EXPANSION("/K"),
  /** Permeability times thickness; a darcy is 0.9869233 µm². */
  PERMEABILITY_THICKNESS("um2.m"),
  LATITUDE("deg"),
  /** A pure number, a share or a count. */
  NUMBER("1");

  private final String baseUnit;

  Dimension(String baseUnit) {
    this.baseUnit = baseUnit;
  }

  /** What a difference of two such quantities is; the same where zero means none. */
  public Dimension difference() {
    return switch (this) {
      case TEMPERATURE -> TEMPERATURE_DIFFERENCE;
      case SOUND -> SOUND_DIFFERENCE;
      default -> this;
    };
  }

  /** The unit values of this dimension have inside, as a UCUM code where UCUM has one. */
  public String baseUnit() {
    return baseUnit;
  }
}

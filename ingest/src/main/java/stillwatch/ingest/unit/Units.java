package stillwatch.ingest.unit;

import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The UCUM codes Stillwatch understands (The Unified Code for Units of Measure, ucum.org) and their
 * conversions.
 */
public final class Units {
  /** 1 lbf/in² by definition of the pound, the inch and standard gravity, in kPa. */
  private static final double PSI_KPA = 6.894757293168;

  /** 42 US gallons of 231 cubic inches, m³. */
  private static final double BARREL_M3 = 42 * 231 * 0.0254 * 0.0254 * 0.0254;

  private static final Map<Kind, Map<String, Conversion>> KNOWN = new EnumMap<>(Kind.class);

  static {
    add(Kind.PRESSURE, "kPa", 1, 0);
    add(Kind.PRESSURE, "Pa", 1e-3, 0);
    add(Kind.PRESSURE, "hPa", 0.1, 0);
    add(Kind.PRESSURE, "MPa", 1000, 0);
    add(Kind.PRESSURE, "bar", 100, 0);
    add(Kind.PRESSURE, "mbar", 0.1, 0);
    add(Kind.PRESSURE, "[psi]", PSI_KPA, 0);
    add(Kind.PRESSURE, "atm", 101.325, 0);
    add(Kind.PRESSURE, "m[H2O]", 9.80665, 0);
    add(Kind.TEMPERATURE, "Cel", 1, 0);
    add(Kind.TEMPERATURE, "K", 1, -273.15);
    add(Kind.TEMPERATURE, "[degF]", 5 / 9.0, -160 / 9.0);
    add(Kind.SOUND, "dB re 1 uPa", 1, 0);
    add(Kind.TILT, "deg", 1, 0);
    add(Kind.TILT, "rad", 180 / Math.PI, 0);
    add(Kind.TILT, "mrad", 0.18 / Math.PI, 0);
    add(Kind.FLOW, "m3/d", 1, 0);
    add(Kind.FLOW, "m3/h", 24, 0);
    add(Kind.FLOW, "m3/s", 86_400, 0);
    add(Kind.FLOW, "L/s", 86.4, 0);
    add(Kind.FLOW, "L/min", 1.44, 0);
    add(Kind.FLOW, "[bbl_us]/d", BARREL_M3, 0);
    add(Kind.FLOW, "[bbl_us]/h", 24 * BARREL_M3, 0);
  }

  private Units() {}

  private static Map<String, Conversion> of(Kind kind) {
    return KNOWN.computeIfAbsent(kind, k -> new LinkedHashMap<>());
  }

  private static void add(Kind kind, String code, double factor, double offset) {
    of(kind).put(code, new Conversion(factor, offset));
  }

  /**
   * The conversion from this unit to the kind's base unit.
   *
   * @param code a UCUM code, case-sensitive; for sound levels {@code dB re 1 uPa}
   * @throws UnitException when the code is no known unit of the kind
   */
  public static Conversion of(Kind kind, String code) {
    Conversion known = of(kind).get(code);
    if (known != null) {
      return known;
    }
    if (kind == Kind.SOUND && code.contains("B[SPL]")) {
      throw new UnitException(
          "unit '%s' is referenced to 20 uPa in air, 26.02 dB off in water; state levels as 'dB re 1 uPa'"
              .formatted(code));
    }
    throw new UnitException(
        "unit '%s' is not known for %s; use one of %s"
            .formatted(code, kind.wire(), String.join(", ", of(kind).keySet())));
  }
}

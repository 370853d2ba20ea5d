package stillwatch.ingest.unit;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Quantities as people write them in plans: a number, a blank, a UCUM unit, for example {@code 2
 * kPa/h}.
 */
public final class Quantities {
  private static final Pattern FORM =
      Pattern.compile("\\s*([-+]?[0-9]+(?:\\.[0-9]+)?(?:[eE][-+]?[0-9]+)?)\\s*(.*?)\\s*");
  private static final Map<String, Double> SECONDS = seconds();

  /** Units of dimensions that are products alone: how many base units one of them is. */
  private static final Map<Dimension, Map<String, Double>> FACTORS =
      Map.of(
          Dimension.DENSITY,
          Map.of("kg/m3", 1.0, "g/cm3", 1000.0),
          Dimension.VOLUME,
          Map.of("m3", 1.0, "[bbl_us]", 0.158987294928),
          Dimension.VISCOSITY,
          Map.of("mPa.s", 1.0, "cP", 1.0, "Pa.s", 1000.0),
          Dimension.COMPRESSIBILITY,
          Map.of("/kPa", 1.0, "/MPa", 1e-3, "/bar", 1e-2, "/[psi]", 1 / 6.894757293168),
          Dimension.EXPANSION,
          Map.of("/K", 1.0, "/Cel", 1.0),
          Dimension.PERMEABILITY_THICKNESS,
          Map.of("um2.m", 1.0, "m2.m", 1e12),
          Dimension.LATITUDE,
          Map.of("deg", 1.0));

  private Quantities() {}

  private static Map<String, Double> seconds() {
    Map<String, Double> s = new LinkedHashMap<>();
    s.put("s", 1.0);
    s.put("min", 60.0);
    s.put("h", 3600.0);
    s.put("d", 86_400.0);
    s.put("ms", 0.001);
    return Map.copyOf(s);
  }

  /**
   * The quantity in the dimension's base unit.
   *
   * @throws UnitException when the text is no quantity of this dimension, saying how one looks
   */
  public static double parse(String text, Dimension dimension) {
    Matcher m = FORM.matcher(text);
    if (!m.matches()) {
      throw new UnitException(
          "'"
              + text
              + "' is no quantity; write a number, a blank and a unit, like '"
              + example(dimension)
              + "'");
    }
    double number = Double.parseDouble(m.group(1));
    String unit = m.group(2);
    if (unit.isEmpty() && dimension != Dimension.NUMBER) {
      throw new UnitException(
          "'" + text + "' lacks its unit; write it like '" + example(dimension) + "'");
    }
    return switch (dimension) {
      case PRESSURE -> Units.of(Kind.PRESSURE, unit).toBase(number);
      case TEMPERATURE -> Units.of(Kind.TEMPERATURE, unit).toBase(number);
      case TEMPERATURE_DIFFERENCE -> number * Units.of(Kind.TEMPERATURE, unit).factor();
      case SOUND -> Units.of(Kind.SOUND, unit).toBase(number);
      case TILT -> Units.of(Kind.TILT, unit).toBase(number);
      case FLOW -> Units.of(Kind.FLOW, unit).toBase(number);
      case PRESSURE_RATE -> perHour(text, number, unit, Kind.PRESSURE, dimension);
      case TEMPERATURE_RATE -> perHour(text, number, unit, Kind.TEMPERATURE, dimension);
      case GRADIENT -> {
        int slash = slash(text, unit, dimension);
        yield number
            * Units.of(Kind.PRESSURE, unit.substring(0, slash)).factor()
            / metres(text, unit.substring(slash + 1));
      }
      case LENGTH -> number * metres(text, unit);
      case SOUND_DIFFERENCE -> {
        if (!unit.equals("dB") && !unit.equals(Dimension.SOUND.baseUnit())) {
          throw wrong(text, dimension);
        }
        yield number;
      }
      case DURATION -> number * factor(text, SECONDS, unit, dimension);
      case DENSITY,
          VOLUME,
          VISCOSITY,
          COMPRESSIBILITY,
          EXPANSION,
          PERMEABILITY_THICKNESS,
          LATITUDE ->
          number * factor(text, FACTORS.getOrDefault(dimension, Map.of()), unit, dimension);
      case NUMBER -> plain(text, number, unit);
    };
  }

  private static double perHour(
      String text, double number, String unit, Kind kind, Dimension dimension) {
    int slash = slash(text, unit, dimension);
    return number
        * Units.of(kind, unit.substring(0, slash)).factor()
        / (factor(text, SECONDS, unit.substring(slash + 1), dimension) / 3600);
  }

  private static double plain(String text, double number, String unit) {
    if (unit.equals("%")) {
      return number / 100;
    }
    if (!unit.isEmpty() && !unit.equals("1")) {
      throw wrong(text, Dimension.NUMBER);
    }
    return number;
  }

  private static int slash(String text, String unit, Dimension dimension) {
    int slash = unit.lastIndexOf('/');
    if (slash < 0) {
      throw wrong(text, dimension);
    }
    return slash;
  }

  private static double factor(
      String text, Map<String, Double> factors, String unit, Dimension dimension) {
    Double factor = factors.get(unit);
    if (factor == null) {
      throw wrong(text, dimension);
    }
    return factor;
  }

  private static double metres(String text, String unit) {
    return switch (unit) {
      case "m" -> 1;
      case "km" -> 1000;
      case "cm" -> 0.01;
      case "[ft_i]" -> 0.3048;
      default -> throw wrong(text, Dimension.LENGTH);
    };
  }

  private static UnitException wrong(String text, Dimension dimension) {
    return new UnitException(
        "'" + text + "' has no unit that fits; write it like '" + example(dimension) + "'");
  }

  private static String example(Dimension dimension) {
    return switch (dimension) {
      case PRESSURE -> "46 MPa";
      case PRESSURE_RATE -> "2 kPa/h";
      case TEMPERATURE -> "4 Cel";
      case TEMPERATURE_DIFFERENCE -> "4 K";
      case TEMPERATURE_RATE -> "0.5 K/h";
      case SOUND -> "92 dB re 1 uPa";
      case SOUND_DIFFERENCE -> "6 dB";
      case TILT -> "0.5 deg";
      case FLOW -> "100 m3/d";
      case LENGTH -> "1400 m";
      case GRADIENT -> "10.05 kPa/m";
      case DURATION -> "3 h";
      case DENSITY -> "700 kg/m3";
      case VOLUME -> "8e7 m3";
      case VISCOSITY -> "0.6 mPa.s";
      case COMPRESSIBILITY -> "2e-6 /kPa";
      case EXPANSION -> "9e-4 /K";
      case PERMEABILITY_THICKNESS -> "12 um2.m";
      case LATITUDE -> "27 deg";
      case NUMBER -> "20";
    };
  }
}

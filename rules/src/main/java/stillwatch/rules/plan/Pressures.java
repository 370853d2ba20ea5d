package stillwatch.rules.plan;

import java.util.Locale;
import stillwatch.ingest.unit.Conversion;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.Units;

/**
 * Pressures as a plan wants them shown.
 *
 * @param conversion from and to kPa
 * @param sign the unit for people
 * @param decimals that show about 10 kPa
 */
public record Pressures(Conversion conversion, String sign, int decimals) {
  /** Those of a plan. */
  public static Pressures of(Plan plan) {
    String code = plan.display().getOrDefault(Kind.PRESSURE, Kind.PRESSURE.baseUnit());
    Conversion c = Units.of(Kind.PRESSURE, code);
    int decimals = Math.max(0, (int) Math.round(Math.log10(c.factor() / 10)));
    return new Pressures(c, code.equals("[psi]") ? "psi" : code, decimals);
  }

  /** The number alone, to about 10 kPa. */
  public String plain(double kPa) {
    return String.format(Locale.ROOT, "%." + decimals + "f", conversion.fromBase(kPa));
  }

  /** The number alone, to about 1 kPa. */
  public String fine(double kPa) {
    return String.format(Locale.ROOT, "%." + (decimals + 1) + "f", conversion.fromBase(kPa));
  }

  /** In the display unit. */
  public double shown(double kPa) {
    return conversion.fromBase(kPa);
  }

  /** A range of changes with its unit, to about 10 kPa, like {@code +6.00 to +9.00 MPa}. */
  public String changes(double lowKPa, double highKPa) {
    String form = "%+." + decimals + "f to %+." + decimals + "f %s";
    return String.format(
        Locale.ROOT, form, lowKPa / conversion.factor(), highKPa / conversion.factor(), sign);
  }

  /** A change with its sign and unit, to about 1 kPa. */
  public String change(double kPa) {
    return (kPa < 0 ? "" : "+") + difference(kPa);
  }

  /** A difference with its unit, to about 1 kPa. */
  public String difference(double kPa) {
    return String.format(
        Locale.ROOT, "%." + (decimals + 1) + "f %s", kPa / conversion.factor(), sign);
  }
}

package stillwatch.rules.plan;

import java.util.Locale;
import stillwatch.ingest.unit.Dimension;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.Quantities;
import stillwatch.ingest.unit.Units;

/**
 * Flows and the volumes that they add up to, as a plan wants them shown: barrels where it shows
 * flow in barrels, else cubic metres.
 *
 * @param m3PerD what one display unit of flow is, m³/d
 * @param sign the unit of flow for people
 * @param m3 what one display unit of volume is, m³
 * @param volumeSign the unit of volume for people
 */
public record Flows(double m3PerD, String sign, double m3, String volumeSign) {
  /** Those of a plan. */
  public static Flows of(Plan plan) {
    String code = plan.display().getOrDefault(Kind.FLOW, Kind.FLOW.baseUnit());
    boolean barrels = code.startsWith("[bbl_us]");
    String volume = barrels ? "[bbl_us]" : "m3";
    return new Flows(
        Units.of(Kind.FLOW, code).factor(),
        code.replace("[bbl_us]", "bbl").replace("m3", "m³"),
        Quantities.parse("1 " + volume, Dimension.VOLUME),
        barrels ? "bbl" : "m³");
  }

  /** The number alone, to three digits at least. */
  public String plain(double m3PerD) {
    return number(m3PerD / this.m3PerD);
  }

  /** A volume with its unit. */
  public String volume(double m3) {
    return number(m3 / this.m3) + " " + volumeSign;
  }

  /** A range of volumes with its unit; one volume where both ends are alike. */
  public String volumes(double lowM3, double highM3) {
    return lowM3 == highM3 ? volume(highM3) : number(lowM3 / m3) + " to " + volume(highM3);
  }

  private static String number(double shown) {
    double size = Math.abs(shown);
    return String.format(
        Locale.ROOT, size == 0 || size >= 100 ? "%.0f" : size >= 1 ? "%.1f" : "%.3f", shown);
  }
}

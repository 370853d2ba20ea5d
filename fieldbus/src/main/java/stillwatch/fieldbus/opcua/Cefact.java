package stillwatch.fieldbus.opcua;

import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.Optional;

/**
 * Units as servers say them: the code of UNECE Recommendation 20, its characters packed into a
 * number (OPC 10000-8, 5.6.4.3), and the UCUM code of each that a gauge may have.
 */
final class Cefact {
  /** Whose codes these are. */
  static final String NAMESPACE = "http://www.opcfoundation.org/UA/units/un/cefact";

  private static final Map<String, String> UCUM =
      Map.ofEntries(
          Map.entry("KPA", "kPa"),
          Map.entry("PAL", "Pa"),
          Map.entry("A97", "hPa"),
          Map.entry("MPA", "MPa"),
          Map.entry("BAR", "bar"),
          Map.entry("MBR", "mbar"),
          Map.entry("PS", "[psi]"),
          Map.entry("ATM", "atm"),
          Map.entry("N23", "m[H2O]"),
          Map.entry("CEL", "Cel"),
          Map.entry("KEL", "K"),
          Map.entry("FAH", "[degF]"),
          Map.entry("DD", "deg"),
          Map.entry("C81", "rad"),
          Map.entry("C25", "mrad"),
          Map.entry("G52", "m3/d"),
          Map.entry("MQH", "m3/h"),
          Map.entry("MQS", "m3/s"),
          Map.entry("G51", "L/s"),
          Map.entry("L2", "L/min"),
          Map.entry("B1", "[bbl_us]/d"),
          Map.entry("J62", "[bbl_us]/h"));

  private Cefact() {}

  /** The UCUM code; empty for a unit that no gauge has. */
  static Optional<String> ucum(int unitId) {
    return Optional.ofNullable(UCUM.get(code(unitId)));
  }

  /** The code of Recommendation 20. */
  static String code(int unitId) {
    byte[] bytes = {
      (byte) (unitId >>> 24), (byte) (unitId >>> 16), (byte) (unitId >>> 8), (byte) unitId
    };
    return new String(bytes, StandardCharsets.US_ASCII).replace("\0", "");
  }
}

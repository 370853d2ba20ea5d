package stillwatch.ingest.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Every unit against the factors of NIST Special Publication 811 (2008), appendix B.8, to the
 * digits printed there: what a unit is mistaken for is the size of a leak.
 */
class UnitsTest {
  @ParameterizedTest
  @CsvSource({
    "kPa, 1, 1",
    "Pa, 1, 1.0E-03",
    "hPa, 1, 1.0E-01",
    "MPa, 1, 1.0E+03",
    "bar, 1, 1.0E+02",
    "mbar, 1, 1.0E-01",
    "[psi], 1, 6.894757", // pound-force per square inch (psi) to pascal: 6.894 757 E+03
    "atm, 1, 101.325", // atmosphere, standard: 1.013 25 E+05
    "m[H2O], 1, 9.80665" // centimetre of water, conventional: 9.806 65 E+01 Pa
  })
  void pressuresInKilopascal(String code, double number, double kPa) {
    same(Kind.PRESSURE, code, number, kPa);
  }

  @ParameterizedTest
  @CsvSource({
    "Cel, 4, 4",
    "K, 277.15, 4", // t/°C = T/K - 273.15
    "[degF], 39.2, 4", // t/°C = (t/°F - 32)/1.8
    "[degF], -40, -40"
  })
  void temperaturesInDegreesCelsius(String code, double number, double celsius) {
    same(Kind.TEMPERATURE, code, number, celsius);
  }

  @ParameterizedTest
  @CsvSource({
    "m3/d, 1, 1",
    "m3/h, 1, 24",
    "m3/s, 1, 86400",
    "L/s, 1, 86.4",
    "L/min, 1, 1.44",
    "[bbl_us]/d, 1, 0.1589873", // barrel (for petroleum, 42 gallons (U.S.)): 1.589 873 E-01
    "[bbl_us]/h, 1, 3.8156952"
  })
  void flowsInCubicMetresADay(String code, double number, double m3PerDay) {
    same(Kind.FLOW, code, number, m3PerDay);
  }

  @ParameterizedTest
  @CsvSource({
    "deg, 1, 1",
    "rad, 1, 57.29578", // degree to radian: 1.745 329 E-02
    "mrad, 1000, 57.29578"
  })
  void tiltsInDegrees(String code, double number, double degrees) {
    same(Kind.TILT, code, number, degrees);
  }

  private static void same(Kind kind, String code, double number, double expected) {
    Conversion conversion = Units.of(kind, code);
    assertThat(conversion.toBase(number))
        .isCloseTo(expected, within(2e-7 * Math.max(1, Math.abs(expected))));
    assertThat(conversion.toBase(2 * number) - conversion.toBase(number))
        .as("a difference has no zero of its own")
        .isCloseTo(conversion.factor() * number, within(1e-9 * Math.max(1, Math.abs(number))));
  }

  @Test
  void aCodeThatIsNoneIsRefusedWithThoseThatAre() {
    for (String wrong : new String[] {"PSI", "psi", "kpa", "Bar", "", " kPa", "Cel", "psia"}) {
      assertThatThrownBy(() -> Units.of(Kind.PRESSURE, wrong))
          .isInstanceOf(UnitException.class)
          .hasMessageContaining("'" + wrong + "'")
          .hasMessageContaining("pressure")
          .hasMessageContaining("kPa, Pa, hPa, MPa, bar, mbar, [psi], atm, m[H2O]");
    }
  }

  /** 20 µPa in air and 1 µPa in water: 20 lg 20 = 26.02 dB apart (ISO 1683). */
  @Test
  void aSoundLevelOfAirIsRefusedWithTheDifference() {
    assertThat(20 * Math.log10(20)).isCloseTo(26.02, within(0.005));
    assertThatThrownBy(() -> Units.of(Kind.SOUND, "dB[SPL]")).hasMessageContaining("26.02 dB");
  }
}

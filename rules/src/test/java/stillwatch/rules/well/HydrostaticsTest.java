package stillwatch.rules.well;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class HydrostaticsTest {
  private static final double KG_PER_M3_OF_A_POUND_PER_GALLON = 0.45359237 / 0.003785411784;
  private static final FluidColumn.Warmth COLD = new FluidColumn.Warmth(0, 4);
  private static final FluidColumn.Warmth COLD_TOO = new FluidColumn.Warmth(5000, 4);

  private static FluidColumn liquid(double density, double compressibility) {
    return new FluidColumn.Liquid(density, 0, 4, compressibility, 0, COLD, COLD_TOO);
  }

  /**
   * N. J. Lapeyrouse, Formulas and Calculations for Drilling, Production and Workover, 2nd ed., ch.
   * 1. Its 0.052 is itself 0.10 % high.
   */
  @ParameterizedTest
  @CsvSource({"13.5, 12000, 8424", "12.0, 10000, 6240"})
  void mudColumnsOfTheHandbook(double poundsPerGallon, double feet, double psi) {
    double kPa =
        liquid(poundsPerGallon * KG_PER_M3_OF_A_POUND_PER_GALLON, 0)
            .pressure(feet * Published.FOOT, 0, 0);
    assertThat(kPa * 1000 / Published.PSI).isCloseTo(psi, withinPercentage(0.1));
  }

  /** The same source: 0.624 psi/ft over 8500 ft. */
  @Test
  void aGradientOfTheHandbook() {
    double gradient = 0.624 * Published.PSI / 1000 / Published.FOOT;
    assertThat(new FluidColumn.Even(gradient).pressure(8500 * Published.FOOT, 0, 0) * 1000)
        .isCloseTo(5304 * Published.PSI, withinPercentage(1e-6));
  }

  /** By definition: 1 m of 1025 kg/m³ at standard gravity is 1.0051816 dbar. */
  @Test
  void aMetreOfSeaWater() {
    assertThat(liquid(1025, 0).pressure(1, 0, 0)).isCloseTo(10.051816, within(1e-6));
  }

  /** At one temperature the equation has a closed form: exp(−cp) = 1 − cρ0gz. */
  @Test
  void aCompressibleColumnAgainstItsClosedForm() {
    double c = 2e-6;
    double deep = -StrictMath.log(1 - c * 700 * FluidColumn.GRAVITY / 1000 * 4000) / c;
    assertThat(liquid(700, c).pressure(4000, 0, 0)).isCloseTo(deep, withinPercentage(1e-9));
    assertThat(liquid(700, c).pressure(0, 4000, deep)).isCloseTo(0, within(1e-5));
  }

  /** Warmth at a constant expansion and no compressibility: the mean of the exponential. */
  @Test
  void aColumnThatIsWarmerBelowIsLighter() {
    FluidColumn warm =
        new FluidColumn.Liquid(700, 0, 4, 0, 1e-3, COLD, new FluidColumn.Warmth(4000, 104));
    double mean = (1 - StrictMath.exp(-0.1)) / 0.1;
    assertThat(warm.pressure(4000, 0, 0))
        .isCloseTo(700 * FluidColumn.GRAVITY / 1000 * 4000 * mean, withinPercentage(1e-9));
  }

  /** UNESCO 44 (1983), table on pp. 26-28, and its check value 9712.653 m. */
  @ParameterizedTest
  @CsvSource({
    "500, 0, 496.65",
    "1000, 30, 990.81",
    "2000, 45, 1974.33",
    "4000, 60, 3925.30",
    "5000, 90, 4889.13",
    "10000, 0, 9725.47",
    "10000, 30, 9712.653"
  })
  void depthInTheSea(double decibar, double latitude, double metres) {
    assertThat(SeaWater.depth(decibar, latitude)).isCloseTo(metres, within(0.01));
    assertThat(SeaWater.pressure(metres, latitude) / 10).isCloseTo(decibar, within(0.02));
  }

  /** P. M. Saunders, Journal of Physical Oceanography 11 (1981), 573-574, another formula. */
  @Test
  void pressureInTheSeaByAnotherFormula() {
    assertThat(SeaWater.pressure(7321.45, 30) / 10).isCloseTo(7500.006513, withinPercentage(0.05));
  }

  /**
   * TEOS-10 (IOC, SCOR and IAPSO 2010), z from p at latitude 30, GSW: another equation of state,
   * with the water as it was measured, so that the depths agree to about a metre.
   */
  @ParameterizedTest
  @CsvSource({"1000, 990.80843", "2000, 1976.93927", "4000, 3935.73356"})
  void depthByTheNewerEquationOfState(double decibar, double metres) {
    assertThat(SeaWater.depth(decibar, 30)).isCloseTo(metres, within(1.2));
  }
}

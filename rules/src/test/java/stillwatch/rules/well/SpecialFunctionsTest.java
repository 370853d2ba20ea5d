package stillwatch.rules.well;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SpecialFunctionsTest {
  private static final Stehfest TWELVE = new Stehfest(12);

  /**
   * Abramowitz and Stegun, Handbook of Mathematical Functions (1964), Table 5.1, pp. 238-242,
   * carried on to 15 digits.
   */
  @ParameterizedTest
  @CsvSource({
    "1e-10, 22.4486352651389",
    "1e-5, 10.9357198000437",
    "0.001, 6.33153936413615",
    "0.01, 4.03792957653811",
    "0.02, 3.35470778330971",
    "0.05, 2.46789848850997",
    "0.1, 1.82292395841939",
    "0.2, 1.22265054418389",
    "0.5, 0.559773594776161",
    "0.75, 0.340340812911230",
    "1.0, 0.219383934395520",
    "1.5, 0.100019582406633",
    "2.0, 0.0489005107080611",
    "5, 0.00114829559127533",
    "10, 4.15696892968532e-6",
    "50, 3.78326402955046e-24"
  })
  void theExponentialIntegralIsThatOfTheTable(double x, double e1) {
    assertThat(ExponentialIntegral.e1(x)).isCloseTo(e1, withinPercentage(1e-10));
  }

  /** Abramowitz and Stegun 1964, Table 9.8, pp. 417-422 (from memory; 10 digits). */
  @ParameterizedTest
  @CsvSource({
    "0.1, 2.4270690247, 9.8538447809",
    "1.0, 0.4210244382, 0.6019072302",
    "2.0, 0.1138938728, 0.1398658818",
    "5.0, 0.0036910983, 0.0040446134"
  })
  void theBesselFunctionsAreThoseOfTheTable(double x, double k0, double k1) {
    assertThat(BesselK.k0(x)).isCloseTo(k0, within(6e-11));
    assertThat(BesselK.k1(x)).isCloseTo(k1, within(6e-11));
  }

  /** The Wronskian, NIST DLMF 10.28.2, with I0 and I1 by their series (10.25.2). */
  @ParameterizedTest
  @CsvSource({"1e-4", "0.03", "0.7", "3", "12"})
  void theBesselFunctionsObeyTheWronskian(double x) {
    double i0 = 0;
    double i1 = 0;
    double term = 1;
    for (int k = 0; k < 80; k++) {
      i0 += term;
      i1 += term * x / 2 / (k + 1);
      term *= x * x / 4 / ((k + 1.0) * (k + 1.0));
    }
    assertThat(i0 * BesselK.k1(x) + i1 * BesselK.k0(x)).isCloseTo(1 / x, withinPercentage(1e-11));
  }

  /** H. Stehfest, Algorithm 368, CACM 13 (1970), 47-49; exact rationals. */
  @Test
  void theWeightsAreThoseOfTheFormula() {
    assertThat(new Stehfest(4).weights()).containsExactly(-2, 26, -48, 24);
    assertThat(new Stehfest(6).weights()).containsExactly(1, -49, 366, -858, 810, -270);
    assertThat(new Stehfest(10).weights())
        .containsExactly(
            new double[] {
              1 / 12.0,
              -385 / 12.0,
              1279,
              -46871 / 3.0,
              505465 / 6.0,
              -473915 / 2.0,
              1127735 / 3.0,
              -1020215 / 3.0,
              328125 / 2.0,
              -65625 / 2.0
            },
            within(1e-9));
    assertThat(Arrays.stream(TWELVE.weights()).sum()).isCloseTo(0, within(1e-7));
  }

  /** The same paper's Table 1: the inverse of 1/√s is 1/√(πt). */
  @ParameterizedTest
  @CsvSource({"1, 0.564189583548", "2, 0.398942280401", "5, 0.252313252202", "10, 0.178412411615"})
  void theInverseOfOneOverTheRoot(double t, double exact) {
    assertThat(new Stehfest(10).invert(s -> 1 / Math.sqrt(s), t))
        .isCloseTo(exact, withinPercentage(6e-4));
  }

  @Test
  void knownPairsComeOutAndItsLimitsAreWhatIsKnownOfThem() {
    DoubleUnaryOperator logarithm =
        s -> -(Math.log(s) + ExponentialIntegral.EULER_GAMMA) / s; // of ln t
    assertThat(TWELVE.invert(logarithm, 10)).isCloseTo(2.3025855, within(1e-6));
    assertThat(TWELVE.invert(s -> 1 / (s * s), 5)).isCloseTo(5.0000048, within(1e-6));
    assertThat(TWELVE.invert(s -> 2 * BesselK.k0(2 * Math.sqrt(0.01 * s)) / s, 1))
        .as("E1(0.01)")
        .isCloseTo(4.0379299, within(1e-6));
    assertThat(TWELVE.invert(s -> s / (s * s + 1), 5))
        .as("cos 5 is 0.28: oscillation is beyond the method")
        .isCloseTo(0.3847, within(1e-3));
  }

  /**
   * Agarwal, Al-Hussainy and Ramey, SPEJ 10 (1970), 279-290; their Laplace form inverted with 30
   * digits.
   */
  @ParameterizedTest
  @CsvSource({
    "0, 0, 1e2, 2.7228944",
    "0, 0, 1e6, 7.3122985",
    "100, 0, 1e2, 0.79754251",
    "100, 0, 1e4, 4.9566691",
    "1000, 0, 1e3, 0.85845621",
    "100, 5, 1e3, 5.801507",
    "1000, 10, 1e2, 0.099585877",
    "1000, 10, 1e4, 7.2012333",
    "1000, 10, 1e6, 17.294544"
  })
  void aWellWithStorageAndSkin(double storage, double skin, double time, double pressure) {
    assertThat(new RadialWell(storage, skin).pressure(time))
        .isCloseTo(pressure, withinPercentage(1e-2));
  }

  /**
   * J. Lee, Well Testing, SPE 1982, Example 1.1 (inputs and the book's 2573, 2968 and 3000 psi from
   * memory; the decimals computed again). Constants of field units: 70.6 and 948.
   */
  @ParameterizedTest
  @CsvSource({"1, 2572.34", "10, 2968.09", "100, 3000.00"})
  void theLineSourceOfAWorkedExample(double feet, double psi) {
    double front = 70.6 * 20 * 1.475 * 0.72 / (0.1 * 150);
    double x = 948 * 0.23 * 0.72 * 1.5e-5 * feet * feet / (0.1 * 3);
    assertThat(3000 - front * ExponentialIntegral.e1(x)).isCloseTo(psi, within(0.05));
  }
}

package stillwatch.rules.drill;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The exponential integral against Abramowitz and Stegun, Handbook of Mathematical Functions
 * (1964), Table 5.1, pp. 238-242, carried on to 15 digits.
 */
class LineSourceTest {
  @ParameterizedTest
  @CsvSource({
    "1e-10, 22.4486352651389",
    "1e-5, 10.9357198000437",
    "0.001, 6.33153936413615",
    "0.01, 4.03792957653811",
    "0.1, 1.82292395841939",
    "0.5, 0.559773594776161",
    "1.0, 0.219383934395520",
    "1.5, 0.100019582406633",
    "2.0, 0.0489005107080611",
    "5, 0.00114829559127533",
    "10, 4.15696892968532e-6",
    "50, 3.78326402955046e-24"
  })
  void theExponentialIntegralIsThatOfTheTable(double x, double e1) {
    assertThat(LineSource.e1(x)).isCloseTo(e1, withinPercentage(1e-10));
  }

  /** The same source, 5.1.11: for a small argument E1(x) is -gamma - ln x. */
  @ParameterizedTest
  @CsvSource({"2, 20"})
  void lateInTimeTheRiseIsALineAgainstTheLogarithmOfTime(double from, double to) {
    LineSource well = new LineSource(700, 5e-6);
    assertThat(well.perUnitRate(to) - well.perUnitRate(from))
        .isCloseTo(700, withinPercentage(1e-3));
  }
}

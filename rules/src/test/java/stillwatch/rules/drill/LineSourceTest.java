package stillwatch.rules.drill;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LineSourceTest {
  /**
   * Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 5.1.11: for a small argument
   * E1(x) is -gamma - ln x.
   */
  @ParameterizedTest
  @CsvSource({"2, 20"})
  void lateInTimeTheRiseIsALineAgainstTheLogarithmOfTime(double from, double to) {
    LineSource well = new LineSource(700, 5e-6);
    assertThat(well.perUnitRate(to) - well.perUnitRate(from))
        .isCloseTo(700, withinPercentage(1e-3));
  }
}

package stillwatch.ingest.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Temperatures and their differences. A kelvin, a degree Celsius and 1.8 degrees Fahrenheit are one
 * difference; the zeros lie at 0 K, 273.15 K and 459.67 °R (BIPM, The International System of
 * Units, 9th ed., 2.3.1; NIST SP 811, B.8).
 */
class QuantitiesTest {
  @ParameterizedTest
  @CsvSource({"4 K, 4", "4 Cel, 4", "7.2 [degF], 4", "0 K, 0", "-1.8 [degF], -1"})
  void aDifferenceOfTemperaturesHasNoZeroOfItsOwn(String text, double kelvin) {
    assertThat(Quantities.parse(text, Dimension.TEMPERATURE_DIFFERENCE))
        .isCloseTo(kelvin, within(1e-12));
  }

  @ParameterizedTest
  @CsvSource({"277.15 K, 4", "4 Cel, 4", "39.2 [degF], 4"})
  void aTemperatureCountsFromTheZeroOfItsUnit(String text, double celsius) {
    assertThat(Quantities.parse(text, Dimension.TEMPERATURE)).isCloseTo(celsius, within(1e-12));
  }

  @Test
  void aDifferenceOfTemperaturesInAnotherUnitIsRefusedWithTheKnownOnes() {
    assertThatThrownBy(() -> Quantities.parse("4 kPa", Dimension.TEMPERATURE_DIFFERENCE))
        .isInstanceOf(UnitException.class)
        .hasMessageContaining("Cel, K, [degF]");
    assertThatThrownBy(() -> Quantities.parse("4", Dimension.TEMPERATURE_DIFFERENCE))
        .hasMessageContaining("'4 K'");
  }

  @Test
  void onlyTemperaturesAndSoundLevelsDifferFromTheirDifferences() {
    for (Dimension d : Dimension.values()) {
      assertThat(d.difference())
          .isEqualTo(
              d == Dimension.TEMPERATURE
                  ? Dimension.TEMPERATURE_DIFFERENCE
                  : d == Dimension.SOUND ? Dimension.SOUND_DIFFERENCE : d);
    }
  }
}

package stillwatch.ingest.recording;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.NumericChars;
import net.jqwik.api.constraints.StringLength;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Numbers of a recording, against the exact value of their digits rounded once. */
class DecimalsTest {
  private static double parse(String text) {
    byte[] padded = ("9," + text + ",9").getBytes(StandardCharsets.US_ASCII);
    return Decimals.parse(padded, 2, padded.length - 2);
  }

  @Property(seed = "20260308")
  void anyDigitsAreTheNearestDouble(
      @ForAll @NumericChars @StringLength(min = 1, max = 25) String whole,
      @ForAll @NumericChars @StringLength(max = 30) String fraction,
      @ForAll boolean negative) {
    String text = (negative ? "-" : "") + whole + (fraction.isEmpty() ? "" : "." + fraction);
    assertThat(parse(text)).isEqualTo(new BigDecimal(text).doubleValue());
  }

  @Property(seed = "20260308")
  void anyPowerOfTenIsTheNearestDouble(
      @ForAll long digits, @ForAll @IntRange(min = -340, max = 320) int exponent) {
    String text = digits + "e" + exponent;
    assertThat(parse(text)).isEqualTo(new BigDecimal(text).doubleValue());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "1d",
        "1D",
        "45f",
        "46.5F",
        "0x1p3",
        "-0x10p0",
        "Infinity",
        "-Infinity",
        "NaNd",
        "1,5",
        "--1",
        "1e",
        "e5",
        ".",
        "-",
        "+",
        "",
        "1.2.3",
        "12 kPa",
        "١٢"
      })
  void whatIsNoDecimalNumberIsNone(String text) {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    assertThatThrownBy(() -> Decimals.parse(bytes, 0, bytes.length))
        .isInstanceOf(NumberFormatException.class);
  }
}

package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.unit.Kind;

/** How numbers stand in a sentence that somebody reads at night. */
class WordsTest {
  private final Words words = new Words(Map.of(Kind.PRESSURE, "MPa"));

  private String said(String form, double kPa) {
    return words.fill(form, Map.of("x", kPa), Map.of(), Kind.PRESSURE, 0);
  }

  /** Gauges carry a tenth of a kilopascal at best: what is less is none. */
  @Test
  void noMoreDigitsThanGaugesCarry() {
    assertThat(said("{x:pressure-rate}", -0.028)).isEqualTo("0 MPa/h");
    assertThat(said("{x:own-difference}", 0.28)).isEqualTo("0.0003 MPa");
    assertThat(said("{x:pressure}", 46_110.04)).isEqualTo("46.11 MPa");
    assertThat(said("{x:count}", 6.934)).isEqualTo("7");
  }

  @Test
  void ofManyGaugesThreeAreToldByNameAndHowManyOthers() {
    assertThat(Words.names(List.of())).isEmpty();
    assertThat(Words.names(List.of("A"))).isEqualTo("A");
    assertThat(Words.names(List.of("A", "B"))).isEqualTo("A and B");
    assertThat(Words.names(List.of("A", "B", "C", "D"))).isEqualTo("A, B, C and D");
    assertThat(Words.names(List.of("A", "B", "C", "D", "E"))).isEqualTo("A, B, C and 2 others");
  }

  @Test
  void aPartWithoutItsNumberOrWithAnEmptyTextIsLeftOut() {
    assertThat(words.fill("a[ {y}][ {z}] b", Map.of(), Map.of("z", ""), null, 0)).isEqualTo("a b");
    assertThat(words.fill("a[ {z}] b", Map.of(), Map.of("z", "and"), null, 0)).isEqualTo("a and b");
  }

  /** Differences and rates to three significant digits, what they may be off by to two. */
  @Test
  void differencesCarryThreeDigitsAndErrorsTwo() {
    assertThat(said("{x:pressure-difference}", 1511.6)).isEqualTo("1.51 MPa");
    assertThat(said("{x:pressure-rate}", -1875.4)).isEqualTo("-1.88 MPa/h");
    assertThat(said("{x:error-rate}", 643)).isEqualTo("0.64 MPa/h");
    assertThat(said("{x:own-offset}", -32.1)).isEqualTo("0.032 MPa below");
    assertThat(said("{x:own-error}", 2.523)).isEqualTo("0.0025 MPa");
  }

  @Test
  void aTimeIsToldByTheClockAndATextStartsWithACapital() {
    long noon = 1_772_971_200_000L;
    assertThat(words.fill("at {x:time}", Map.of("x", 1800.0), Map.of(), null, noon))
        .isEqualTo("at 12:30:00 UTC");
    assertThat(words.fill("at {x:time}", Map.of("x", 86_400.0), Map.of(), null, noon))
        .isEqualTo("at 2026-03-09 12:00:00 UTC");
    assertThat(words.fill("{t:start}.", Map.of(), Map.of("t", "bubbles."), null, noon))
        .isEqualTo("Bubbles.");
  }
}

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
    return words.fill(form, Map.of("x", kPa), Map.of(), Kind.PRESSURE);
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
    assertThat(words.fill("a[ {y}][ {z}] b", Map.of(), Map.of("z", ""), null)).isEqualTo("a b");
    assertThat(words.fill("a[ {z}] b", Map.of(), Map.of("z", "and"), null)).isEqualTo("a and b");
  }
}

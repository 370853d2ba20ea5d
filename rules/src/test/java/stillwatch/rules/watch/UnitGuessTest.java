package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Quality;

/** Whether a gauge speaks another unit, by the factors of NIST SP 811 (2008), appendix B.8. */
class UnitGuessTest {
  private static final long START = 1_772_967_600_000L;

  /** kPa in one, to the digits of the table. */
  private static final Map<String, Double> PUBLISHED =
      Map.of(
          "Pa", 1e-3,
          "kPa", 1.0,
          "MPa", 1e3,
          "bar", 1e2,
          "mbar", 1e-1,
          "[psi]", 6.894_757,
          "kgf/cm2", 98.066_5,
          "atm", 101.325);

  private static final double TRUE_KPA = 46_000;

  private static WatchedGauge gauge(String id, String unit) {
    return TestGauges.of(id, unit, null, START);
  }

  private static void read(WatchedGauge g, int fromS, int toS, double kPa) {
    for (int s = fromS; s < toS; s++) {
      g.track.accept(START + s * 1000L, START + s * 1000L, kPa, Quality.GOOD.code());
    }
  }

  private static String guess(String own, double asIfKPa) {
    WatchedGauge g = gauge("PT-1", own);
    read(g, 0, 60, TRUE_KPA);
    read(g, 60, 63, asIfKPa);
    return UnitGuess.of(g, List.of(g), START + 63_000);
  }

  @Test
  void aSourceThatBeginsToSpeakAnotherUnitIsFoundOutWhateverItsOwn() {
    for (String own : List.of("kPa", "bar", "[psi]", "MPa", "Pa", "atm")) {
      PUBLISHED.forEach(
          (spoken, kPa) -> {
            double number = TRUE_KPA / kPa; // what it sends
            double asIf = number * PUBLISHED.getOrDefault(own, Double.NaN); // how that is taken
            boolean alike = Math.abs(asIf / TRUE_KPA - 1) <= 0.05;
            String name =
                spoken.equals("[psi]") ? "psi" : spoken.toLowerCase(java.util.Locale.ROOT);
            assertThat(guess(own, asIf))
                .as("%s taken for %s", spoken, own)
                .isEqualTo(alike ? "" : name);
          });
    }
  }

  /**
   * A fall of the well is no unit: the ratios of the table are left out, with a hundredth beside.
   */
  @Property(seed = "20260308", tries = 200)
  void aFallByAnyOtherRatioIsNotTakenForAUnit(
      @ForAll @DoubleRange(min = 0.11, max = 0.94) double r) {
    boolean published = PUBLISHED.values().stream().anyMatch(kPa -> Math.abs(r * kPa - 1) < 0.01);
    if (!published) {
      assertThat(guess("kPa", TRUE_KPA * r)).isEmpty();
    }
  }

  @Test
  void aGaugeThatSpokeItFromItsFirstReadingIsFoundOutBesideAnother() {
    WatchedGauge wrong = gauge("PT-1", "kPa");
    WatchedGauge right = gauge("PT-2", "kPa");
    read(wrong, 0, 60, TRUE_KPA / 100); // bar, out of its range
    read(right, 0, 60, TRUE_KPA);
    assertThat(UnitGuess.of(wrong, List.of(wrong, right), START + 60_000)).isEqualTo("bar");
    assertThat(UnitGuess.of(right, List.of(wrong, right), START + 60_000)).isEmpty();
  }

  @Test
  void aGaugeThatGoesOnAsBeforeSpeaksItsOwn() {
    assertThat(guess("kPa", TRUE_KPA)).isEmpty();
  }
}

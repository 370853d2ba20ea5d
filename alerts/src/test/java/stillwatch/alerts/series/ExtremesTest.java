package stillwatch.alerts.series;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;

/** The decimation of a chart against every reading kept. */
class ExtremesTest {
  record Reading(long atMs, double value) {}

  /** Readings in any order over stretches from seconds to years. */
  @Provide
  Arbitrary<List<Reading>> readings() {
    return Arbitraries.longs()
        .between(1, 100_000_000)
        .flatMap(
            stepMs ->
                Combinators.combine(
                        Arbitraries.longs().between(0, 500),
                        Arbitraries.doubles().between(-1e6, 1e6))
                    .as((n, v) -> new Reading(1_772_967_600_000L + n * stepMs, v))
                    .list()
                    .ofMinSize(1)
                    .ofMaxSize(200));
  }

  @Property
  void noExtremeIsLostHoweverLongTheStretch(
      @ForAll("readings") List<Reading> readings, @ForAll @IntRange(min = 2, max = 300) int slots) {
    Extremes extremes = new Extremes(slots);
    readings.forEach(r -> extremes.add(r.atMs(), r.value()));
    assertThat((extremes.toMs() - extremes.fromMs()) / extremes.widthMs())
        .isLessThanOrEqualTo(slots);
    long columnMs = extremes.widthMs() * 7;
    long fromMs = Math.floorDiv(extremes.fromMs(), columnMs) * columnMs;
    double[] lows = new double[(int) ((extremes.toMs() - fromMs) / columnMs + 1)];
    double[] highs = new double[lows.length];
    extremes.columns(fromMs, columnMs, lows, highs);

    for (int c = 0; c < lows.length; c++) {
      long startMs = fromMs + c * columnMs;
      double[] inside =
          readings.stream()
              .filter(
                  r ->
                      slotStart(r.atMs(), extremes.widthMs()) >= startMs
                          && slotStart(r.atMs(), extremes.widthMs()) < startMs + columnMs)
              .mapToDouble(Reading::value)
              .toArray();
      assertThat(Double.valueOf(lows[c]))
          .isEqualTo(Double.valueOf(Arrays.stream(inside).min().orElse(Double.NaN)));
      assertThat(Double.valueOf(highs[c]))
          .isEqualTo(Double.valueOf(Arrays.stream(inside).max().orElse(Double.NaN)));
    }
  }

  private static long slotStart(long atMs, long widthMs) {
    return Math.floorDiv(atMs, widthMs) * widthMs;
  }
}

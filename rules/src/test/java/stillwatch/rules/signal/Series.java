package stillwatch.rules.signal;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;

/** Random and adversarial series of readings. */
final class Series {
  static final long START_MS = 1_772_967_600_000L;

  private Series() {}

  record Reading(long atMs, double value) {}

  /**
   * Finite readings at increasing times: steps from a millisecond to two hours mixed, so that there
   * are bursts and gaps; values that repeat, step, drift or jump about a level of 46 MPa.
   */
  static Arbitrary<List<Reading>> increasing() {
    Arbitrary<Long> steps =
        Arbitraries.oneOf(
            Arbitraries.longs().between(1, 50),
            Arbitraries.just(1000L),
            Arbitraries.longs().between(500, 20_000),
            Arbitraries.longs().between(100_000, 7_200_000));
    Arbitrary<Double> changes =
        Arbitraries.oneOf(
            Arbitraries.just(0.0),
            Arbitraries.doubles().between(-0.1, 0.1),
            Arbitraries.doubles().between(-500, 500));
    return Combinators.combine(steps, changes)
        .as((step, change) -> new Reading(step, change))
        .list()
        .ofMinSize(1)
        .ofMaxSize(300)
        .map(Series::summed);
  }

  private static List<Reading> summed(List<Reading> steps) {
    List<Reading> series = new ArrayList<>();
    long at = START_MS;
    double value = 46_000;
    for (Reading step : steps) {
      at += step.atMs();
      value += step.value();
      series.add(new Reading(at, value));
    }
    return series;
  }
}

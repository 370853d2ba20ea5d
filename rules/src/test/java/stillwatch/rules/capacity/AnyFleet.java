package stillwatch.rules.capacity;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import stillwatch.rules.well.Uncertain;

/** Reopenings of any kind: one to five units, ranges and single values, one or two outlets. */
final class AnyFleet {
  private AnyFleet() {}

  static Arbitrary<Reopening> any() {
    Arbitrary<List<Reopening.CollectionUnit>> units = unit().list().ofMinSize(1).ofMaxSize(5);
    Arbitrary<Optional<Uncertain>> limit = quantity(100, 1500).optional(0.5);
    Arbitrary<Reopening.Weather> weather =
        Combinators.combine(hours(24, 800), hours(6, 200)).as(Reopening.Weather::new);
    return Combinators.combine(quantity(100, 2000), limit, limit, units, weather.optional(0.5))
        .as(
            (flow, top, side, fleet, storms) ->
                new Reopening(
                    flow,
                    List.of(new Reopening.Outlet("top", top), new Reopening.Outlet("side", side)),
                    named(fleet),
                    storms));
  }

  private static Arbitrary<Reopening.CollectionUnit> unit() {
    return Combinators.combine(
            Arbitraries.of("top", "side"),
            quantity(50, 800),
            Arbitraries.oneOf(Arbitraries.doubles().between(0.2, 0.99), Arbitraries.just(1.0)),
            hours(2, 72),
            hours(2, 72).optional(0.5))
        .as(
            (outlet, capacity, availability, connect, back) ->
                new Reopening.CollectionUnit("", outlet, capacity, availability, connect, back));
  }

  private static List<Reopening.CollectionUnit> named(List<Reopening.CollectionUnit> units) {
    return java.util.stream.IntStream.range(0, units.size())
        .mapToObj(
            i -> {
              Reopening.CollectionUnit u = units.get(i);
              return new Reopening.CollectionUnit(
                  "unit " + i,
                  u.outlet(),
                  u.capacity(),
                  u.availability(),
                  u.timeToConnect(),
                  u.backAfterWeather());
            })
        .toList();
  }

  private static Arbitrary<Uncertain> quantity(int low, int high) {
    Arbitrary<Double> value = Arbitraries.doubles().between(low, high);
    return Arbitraries.oneOf(
        value.map(Uncertain::known),
        Combinators.combine(value, Arbitraries.doubles().between(1, 200))
            .as((from, wide) -> Uncertain.between(from, from + wide)));
  }

  private static Arbitrary<Duration> hours(int low, int high) {
    return Arbitraries.integers().between(low, high).map(Duration::ofHours);
  }

  /** The same with one unit that can take more. */
  static Reopening withMore(Reopening reopening, int unit, double more) {
    List<Reopening.CollectionUnit> units = new java.util.ArrayList<>(reopening.units());
    Reopening.CollectionUnit u = units.get(unit % units.size());
    units.set(
        unit % units.size(),
        new Reopening.CollectionUnit(
            u.name(),
            u.outlet(),
            moved(u.capacity(), more),
            u.availability(),
            u.timeToConnect(),
            u.backAfterWeather()));
    return new Reopening(reopening.expectedFlow(), reopening.outlets(), units, reopening.weather());
  }

  /** The same with more flow. */
  static Reopening withMoreFlow(Reopening reopening, double more) {
    return new Reopening(
        moved(reopening.expectedFlow(), more),
        reopening.outlets(),
        reopening.units(),
        reopening.weather());
  }

  private static Uncertain moved(Uncertain u, double by) {
    return new Uncertain(u.form(), u.low() + by, u.likely() + by, u.high() + by);
  }
}

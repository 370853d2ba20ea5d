package stillwatch.rules.capacity;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import stillwatch.rules.well.Uncertain;

/** A reopening being put together for a test; capacities m³/d. */
final class Fleet {
  private final List<Reopening.Outlet> outlets = new ArrayList<>();
  private final List<Reopening.CollectionUnit> units = new ArrayList<>();
  private Optional<Reopening.Weather> weather = Optional.empty();

  /** So many units of 100 m³/d behind one outlet. */
  static Fleet alike(int units, double availability, Duration connect) {
    Fleet fleet = new Fleet().outlet("top");
    IntStream.range(0, units).forEach(i -> fleet.unit("top", 100, availability, connect));
    return fleet;
  }

  Fleet outlet(String name) {
    outlets.add(new Reopening.Outlet(name, Optional.empty()));
    return this;
  }

  Fleet outlet(String name, double capacity) {
    outlets.add(new Reopening.Outlet(name, Optional.of(Uncertain.known(capacity))));
    return this;
  }

  Fleet unit(String outlet, double capacity, double availability, Duration connect) {
    return unit(outlet, Uncertain.known(capacity), availability, connect, Optional.empty());
  }

  Fleet leaving(
      String outlet, double capacity, double availability, Duration connect, Duration back) {
    return unit(outlet, Uncertain.known(capacity), availability, connect, Optional.of(back));
  }

  Fleet unit(
      String outlet,
      Uncertain capacity,
      double availability,
      Duration connect,
      Optional<Duration> back) {
    String name = "unit " + (char) ('A' + units.size());
    units.add(new Reopening.CollectionUnit(name, outlet, capacity, availability, connect, back));
    return this;
  }

  Fleet weather(Duration every, Duration lasts) {
    weather = Optional.of(new Reopening.Weather(every, lasts));
    return this;
  }

  Reopening against(double flow) {
    return against(Uncertain.known(flow));
  }

  Reopening against(Uncertain flow) {
    return new Reopening(flow, List.copyOf(outlets), List.copyOf(units), weather);
  }
}

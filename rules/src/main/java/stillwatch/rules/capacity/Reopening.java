package stillwatch.rules.capacity;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import stillwatch.rules.well.Uncertain;

/**
 * How the flow of the well would be collected when it is reopened.
 *
 * @param expectedFlow what would come out, m³/d
 * @param outlets what the well can flow through
 * @param units what collects, each behind one outlet; {@link #MOST_UNITS} at most
 * @param weather the weather that some units must leave for; empty where none is counted
 */
public record Reopening(
    Uncertain expectedFlow,
    List<Outlet> outlets,
    List<CollectionUnit> units,
    Optional<Weather> weather) {
  /** All states of the units are counted, two to the power of their number. */
  public static final int MOST_UNITS = 12;

  private static final double DAY_MS = 86_400_000;

  /**
   * Where the well lets its flow out.
   *
   * @param capacity what it lets through, m³/d; empty where its units are what limits it
   */
  public record Outlet(String name, Optional<Uncertain> capacity) {}

  /**
   * A vessel or a line that takes flow from an outlet.
   *
   * @param outlet the name of its outlet
   * @param capacity what it can take, m³/d
   * @param availability the share of time that it can collect, weather aside, above 0 up to 1
   * @param timeToConnect the mean time until it collects again once it has dropped out
   * @param backAfterWeather the time until it collects again once the weather is over; empty where
   *     it stays
   */
  public record CollectionUnit(
      String name,
      String outlet,
      Uncertain capacity,
      double availability,
      Duration timeToConnect,
      Optional<Duration> backAfterWeather) {
    /**
     * The mean time between its outages, days; infinite where it is always available. In the long
     * run availability is the mean time up over the mean time up and down (IEC 61703, from memory).
     */
    double meanUpDays() {
      return availability >= 1
          ? Double.POSITIVE_INFINITY
          : availability / (1 - availability) * meanOutageDays();
    }

    /** The mean length of an outage, days. */
    double meanOutageDays() {
      return days(timeToConnect);
    }
  }

  /**
   * Weather in which units leave.
   *
   * @param every the mean time from the end of one to the start of the next
   * @param lasts the mean time that one lasts
   */
  public record Weather(Duration every, Duration lasts) {
    double everyDays() {
      return days(every);
    }

    double lastsDays() {
      return days(lasts);
    }
  }

  static double days(Duration duration) {
    return duration.toMillis() / DAY_MS;
  }

  /** The units that a state or a loss is about, as bits: bit i is unit i. */
  int everyUnit() {
    return (1 << units.size()) - 1;
  }

  /** The units behind an outlet, as bits. */
  int behind(Outlet outlet) {
    return IntStream.range(0, units.size())
        .filter(i -> units.get(i).outlet().equals(outlet.name()))
        .map(i -> 1 << i)
        .sum();
  }

  /** The units that stay whatever the weather is, as bits. */
  int staying() {
    return IntStream.range(0, units.size())
        .filter(i -> units.get(i).backAfterWeather().isEmpty())
        .map(i -> 1 << i)
        .sum();
  }
}

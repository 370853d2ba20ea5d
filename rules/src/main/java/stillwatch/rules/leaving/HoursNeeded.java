package stillwatch.rules.leaving;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import stillwatch.ingest.telemetry.WeatherForecast;
import stillwatch.rules.capacity.Reopening;

/**
 * The hours that test and reopening still need, against the window that a forecast leaves open. All
 * units are connected beside each other, so the slowest says how long reopening takes.
 *
 * @param nowMs from when it is counted, log time, ms since 1970 UTC
 * @param forecast the weather
 * @param test how long the test still runs; empty while it does not run
 * @param units what collects; none where the plan says nothing of a reopening
 */
public record HoursNeeded(
    long nowMs,
    WeatherForecast forecast,
    Optional<Duration> test,
    List<Reopening.CollectionUnit> units) {
  private static final int MOST = 200;

  /** Hours needed. */
  public HoursNeeded {
    units = List.copyOf(units);
  }

  /**
   * How it stands now.
   *
   * @param testEndMs when the test is over; empty while it does not run
   */
  public static HoursNeeded of(
      long nowMs,
      WeatherForecast forecast,
      Optional<Long> testEndMs,
      Optional<Reopening> reopening) {
    return new HoursNeeded(
        nowMs,
        forecast,
        testEndMs.map(end -> Duration.ofMillis(Math.max(0, end - nowMs))),
        reopening.map(Reopening::units).orElse(List.of()));
  }

  /** The time until the weather; zero once it has begun. */
  public Duration window() {
    return Duration.ofMillis(Math.max(0, forecast.fromMs() - nowMs));
  }

  /** The unit that takes longest to connect; empty where there is none. */
  public Optional<Reopening.CollectionUnit> slowest() {
    return units.stream().max(Comparator.comparing(Reopening.CollectionUnit::timeToConnect));
  }

  /** The rest of the test, then connecting every unit; empty where nothing is known of either. */
  public Optional<Duration> needed() {
    return Stream.concat(
            test.stream(), slowest().map(Reopening.CollectionUnit::timeToConnect).stream())
        .reduce(Duration::plus);
  }

  /** What the window has more than is needed; negative where it is too short. */
  public Optional<Duration> spare() {
    return needed().map(n -> window().minus(n));
  }

  /** By when connecting must begin for every unit to collect before the weather. */
  public Optional<Long> connectByMs() {
    return slowest().map(u -> forecast.fromMs() - u.timeToConnect().toMillis());
  }

  /** When a unit that leaves for the weather collects again; empty for one that stays. */
  public Optional<Long> backMs(Reopening.CollectionUnit unit) {
    return unit.backAfterWeather().map(d -> forecast.toMs() + d.toMillis());
  }

  /** When the weather is over and every unit that left for it collects again. */
  public long allBackMs() {
    return units.stream()
        .flatMap(u -> backMs(u).stream())
        .max(Long::compare)
        .orElse(forecast.toMs());
  }

  /**
   * The hold points that fall into the weather, or after it until every unit is back; ms since 1970
   * UTC.
   *
   * @param nextMs the next one; empty where none is set
   * @param every how often the plan has one
   */
  public List<Long> holdPoints(Optional<Long> nextMs, Duration every) {
    List<Long> within = new ArrayList<>();
    if (nextMs.isPresent()) {
      long stepMs = Math.max(1, every.toMillis());
      long behindMs = Math.max(0, forecast.fromMs() - nextMs.get());
      long firstMs = nextMs.get() + -Math.floorDiv(-behindMs, stepMs) * stepMs;
      for (long ms = firstMs; ms <= allBackMs() && within.size() < MOST; ms += stepMs) {
        within.add(ms);
      }
    }
    return within;
  }
}

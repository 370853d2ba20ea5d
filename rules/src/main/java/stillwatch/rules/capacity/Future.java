package stillwatch.rules.capacity;

import java.util.Arrays;
import java.util.Optional;
import java.util.Random;

/**
 * One future of the units and the weather, from the moment at which all units are connected in good
 * weather. Outages begin and end without memory (exponential times), each unit's apart from the
 * others' and from the weather; storms come and end without memory and take every unit that leaves
 * for weather at once; each is back its own fixed time after the end, unless the next storm has
 * come by then.
 */
final class Future {
  private static final double NEVER = Double.POSITIVE_INFINITY;

  private final Reopening reopening;
  private final Random random;
  private final int leaving;

  /** When each unit drops out next, or is connected again. */
  private final double[] turn;

  /** When each unit is back after the weather; never while a storm lasts. */
  private final double[] back;

  private double nextWeather;
  private boolean storm;

  /** The units that no outage holds off, as bits. */
  private int working;

  /** The units that are away for the weather, as bits. */
  private int away;

  Future(Reopening reopening, Random random) {
    this.reopening = reopening;
    this.random = random;
    leaving = reopening.everyUnit() & ~reopening.staying();
    turn = new double[reopening.units().size()];
    back = new double[turn.length];
    working = reopening.everyUnit();
    for (int i = 0; i < turn.length; i++) {
      turn[i] = lasting(reopening.units().get(i).meanUpDays());
    }
    Arrays.fill(back, NEVER);
    nextWeather = lasting(reopening.weather().map(Reopening.Weather::everyDays).orElse(NEVER));
  }

  /** What became of it within so many days, with what is collected and flows as drawn. */
  Outcome within(double days, Drawn drawn) {
    double now = 0;
    double firstShort = NEVER;
    double shortFor = 0;
    double spilled = 0;
    while (now < days) {
      double until = Math.min(days, next());
      int up = working & ~away;
      if (!drawn.holds(up)) {
        firstShort = Math.min(firstShort, now);
        shortFor += until - now;
        spilled += drawn.spill(up) * (until - now);
      }
      now = until;
      happen(now);
    }
    return new Outcome(firstShort, shortFor, spilled);
  }

  /**
   * What became of a future.
   *
   * @param firstShort when the capacity first fell below the flow, days; infinite where it never
   *     did
   * @param shortFor how long it was below, days
   * @param spilled what was not collected, m³
   */
  record Outcome(double firstShort, double shortFor, double spilled) {}

  private double next() {
    double next = nextWeather;
    for (int i = 0; i < turn.length; i++) {
      next = Math.min(next, Math.min(turn[i], back[i]));
    }
    return next;
  }

  private void happen(double now) {
    for (int i = 0; i < turn.length; i++) {
      if (turn[i] <= now) {
        working ^= 1 << i;
        Reopening.CollectionUnit unit = reopening.units().get(i);
        boolean up = (working & 1 << i) != 0;
        turn[i] = now + lasting(up ? unit.meanUpDays() : unit.meanOutageDays());
      }
      if (back[i] <= now) {
        away &= ~(1 << i);
        back[i] = NEVER;
      }
    }
    if (nextWeather <= now) {
      weather(now);
    }
  }

  private void weather(double now) {
    Reopening.Weather weather = reopening.weather().orElseThrow();
    storm = !storm;
    nextWeather = now + lasting(storm ? weather.lastsDays() : weather.everyDays());
    away |= leaving;
    for (int i = 0; i < back.length; i++) {
      Optional<Double> after = reopening.units().get(i).backAfterWeather().map(Reopening::days);
      back[i] = storm ? NEVER : after.map(days -> now + days).orElse(NEVER);
    }
  }

  /** A time without memory, of this mean, days. */
  private double lasting(double mean) {
    double number = random.nextDouble();
    return mean == NEVER ? NEVER : -mean * StrictMath.log(1 - number);
  }
}

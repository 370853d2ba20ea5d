package stillwatch.rules.capacity;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import stillwatch.rules.well.Uncertain;

/** One value for everything that the plan gives as a range, m³/d. */
final class Drawn {
  /** Sums of capacities that were stated in another unit may miss the flow by their rounding. */
  private static final double ROUNDING = 1e-9;

  /** Where a random number falls on neither end of a range that has none. */
  private static final double LEAST = 1e-9;

  private static final Uncertain UNLIMITED = Uncertain.known(Double.POSITIVE_INFINITY);

  private final double flow;
  private final double[] unit;
  private final double[] outlet;
  private final int[] behind;

  private Drawn(
      Reopening reopening, ToDoubleFunction<Uncertain> flow, ToDoubleFunction<Uncertain> capacity) {
    this.flow = flow.applyAsDouble(reopening.expectedFlow());
    unit =
        reopening.units().stream().mapToDouble(u -> capacity.applyAsDouble(u.capacity())).toArray();
    outlet =
        reopening.outlets().stream()
            .mapToDouble(o -> capacity.applyAsDouble(o.capacity().orElse(UNLIMITED)))
            .toArray();
    behind = reopening.outlets().stream().mapToInt(reopening::behind).toArray();
  }

  /** The least flow and capacity, or the likely ones, or the greatest. */
  static Drawn at(Reopening reopening, ToDoubleFunction<Uncertain> end) {
    return new Drawn(reopening, end, end);
  }

  /** The greatest flow and the least capacity. */
  static Drawn worst(Reopening reopening) {
    return new Drawn(reopening, Uncertain::high, Uncertain::low);
  }

  /**
   * Any values of the ranges. What is known takes a random number too, so that the numbers of a
   * seed go to the same quantities whatever the plan knows.
   */
  static Drawn any(Reopening reopening, Random random) {
    ToDoubleFunction<Uncertain> draw =
        u -> {
          double number = Math.max(LEAST, random.nextDouble());
          return Math.max(0, u.quantile(number));
        };
    return new Drawn(reopening, draw, draw);
  }

  /** So many draws. */
  static List<Drawn> many(Reopening reopening, int draws, long seed) {
    Random random = new Random(seed);
    List<Drawn> all = new ArrayList<>(draws);
    for (int i = 0; i < draws; i++) {
      all.add(any(reopening, random));
    }
    return all;
  }

  double flow() {
    return flow;
  }

  /** What the units of these bits can collect: behind each outlet what it lets through at most. */
  double capacity(int up) {
    double sum = 0;
    for (int k = 0; k < outlet.length; k++) {
      sum += through(k, up);
    }
    return sum;
  }

  /** What comes through one outlet to the units of these bits. */
  double through(int k, int up) {
    double units = 0;
    for (int i = 0; i < unit.length; i++) {
      units += (up & behind[k] & 1 << i) != 0 ? unit[i] : 0;
    }
    return Math.min(units, outlet[k]);
  }

  /** What an outlet lets through, its units aside; infinite where nothing is said of it. */
  double limit(int k) {
    return outlet[k];
  }

  boolean holds(int up) {
    return capacity(up) >= flow * (1 - ROUNDING);
  }

  /** What is not collected, m³/d. */
  double spill(int up) {
    return holds(up) ? 0 : flow - capacity(up);
  }
}

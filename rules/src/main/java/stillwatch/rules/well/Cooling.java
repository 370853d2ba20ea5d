package stillwatch.rules.well;

import java.util.List;

/**
 * What the cooling of the column takes off the pressure after the shut-in, in three columns of a
 * linear model: {@code A·ḡ + s1·(g8 − g20) + s2·(g48 − g20)} with {@code gτ = 1 − exp(−t/τ)} and ḡ
 * their mean. A is what it comes to in the end; s1 and s2 let it come sooner or later. A column of
 * many depths cools at many paces, so no one τ is right.
 */
final class Cooling {
  /** How many columns. */
  static final int COLUMNS = 3;

  private static final double SOON = 8;
  private static final double MIDDLE = 20;
  private static final double LATE = 48;

  private Cooling() {}

  /** What is believed of the three, where the facts say so much of the end. */
  static List<LinearFit.Prior> priors(Uncertain end) {
    double deviation = Math.max(0.01, (end.high() - end.low()) / Math.sqrt(12)); // an even spread's
    double pace = Math.max(0.01, Math.max(Math.abs(end.low()), Math.abs(end.high())) / 4);
    return List.of(
        new LinearFit.Prior(end.likely(), deviation),
        new LinearFit.Prior(0, pace),
        new LinearFit.Prior(0, pace));
  }

  /**
   * How fast it lowers the pressure so many hours after the shut-in, kPa an hour, and how sure that
   * is.
   */
  static Estimate rate(Uncertain end, double hours) {
    double soon = StrictMath.exp(-hours / SOON) / SOON;
    double middle = StrictMath.exp(-hours / MIDDLE) / MIDDLE;
    double late = StrictMath.exp(-hours / LATE) / LATE;
    double mean = (soon + middle + late) / 3;
    List<LinearFit.Prior> p = priors(end);
    double size = mean * p.get(0).deviation();
    double pace = p.get(1).deviation() * StrictMath.hypot(soon - middle, late - middle);
    return new Estimate(mean * end.likely(), StrictMath.hypot(size, pace));
  }

  /** Writes the three columns into a row, so many hours after the shut-in; none before it. */
  static void fill(double[] row, int at, double hours) {
    if (hours > 0) {
      double soon = 1 - StrictMath.exp(-hours / SOON);
      double middle = 1 - StrictMath.exp(-hours / MIDDLE);
      double late = 1 - StrictMath.exp(-hours / LATE);
      row[at] = -(soon + middle + late) / 3;
      row[at + 1] = -(soon - middle);
      row[at + 2] = -(late - middle);
    }
  }
}

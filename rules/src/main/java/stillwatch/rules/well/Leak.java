package stillwatch.rules.well;

import java.util.List;

/**
 * A leak of unit size: its rate by time follows the measured pressure, and what that takes off the
 * pressure at the well, per unit of slope, is the superposition of its changes. A unit is the rate
 * at the newest pressure.
 */
final class Leak {
  private final Explanation explanation;
  private final double outside;
  private final double before;
  private final double from;
  private final double[] at;
  private final double[] change;
  private final double[] clock;
  private final double[] rate;
  private final double[] cycles;
  private final double newest;

  /**
   * A leak.
   *
   * @param outside the pressure at the wellhead below which nothing leaks, kPa
   * @param before the logarithm of how likely that is beforehand
   * @param from since when, hours; minus infinity for always
   * @param flowing the pressure before the closing, kPa
   * @param flowSince when the flow began
   */
  Leak(
      Explanation explanation,
      double outside,
      double before,
      double from,
      List<BuildUp.Observed> seen,
      double flowing,
      double flowSince) {
    this.explanation = explanation;
    this.outside = outside;
    this.before = before;
    this.from = from;
    int n = seen.size();
    at = new double[n + 1];
    change = new double[n + 1];
    clock = new double[n];
    rate = new double[n];
    cycles = new double[n];
    newest = n == 0 ? flowing : seen.get(n - 1).pressure();
    double last = Double.isInfinite(from) ? rate(flowing) : 0;
    at[0] = flowSince;
    change[0] = last;
    for (int i = 0; i < n; i++) {
      clock[i] = seen.get(i).clock();
      rate[i] = clock[i] < from ? 0 : rate(seen.get(i).pressure());
      double step = clock[i] - seen.get(i).sinceStep();
      boolean jumped = i == 0 || clock[i - 1] < step; // at the step itself, by its friction
      double changed = jumped ? step : (clock[i - 1] + clock[i]) / 2;
      at[i + 1] = Math.max(changed, Math.min(from, clock[i] - 1e-4));
      change[i + 1] = rate[i] - last;
      last = rate[i];
    }
    for (int i = 0; i < n; i++) {
      cycles[i] = cycles(clock[i], i + 2);
    }
  }

  private double rate(double pressure) {
    double above = Math.max(0, pressure - outside);
    double now = Math.max(1, newest - outside);
    return explanation == Explanation.LEAK_TO_SEA ? Math.sqrt(above / now) : above / now;
  }

  private double cycles(double time, int changes) {
    double sum = 0;
    for (int j = 0; j < Math.min(changes, at.length); j++) {
      if (change[j] != 0 && time > at[j]) {
        sum += change[j] * StrictMath.log10(time - at[j]);
      }
    }
    return sum;
  }

  /** Whether it is as old as the flow. */
  boolean always() {
    return Double.isInfinite(from);
  }

  /** The logarithm of how likely the pressure it leaks above is beforehand. */
  double before() {
    return before;
  }

  /** Since when, hours; minus infinity for always. */
  double from() {
    return from;
  }

  Explanation explanation() {
    return explanation;
  }

  /** What it takes off the pressure at a mean, in units of slope. */
  double drawdown(int i, double skin) {
    return cycles[i] + skin * rate[i];
  }

  /** The same at a later time, the pressure staying as it is. */
  double ahead(double time, double skin) {
    return cycles(time, at.length) + skin * (rate.length == 0 ? 0 : rate[rate.length - 1]);
  }
}

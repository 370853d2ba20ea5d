package stillwatch.rules.well;

import java.util.Arrays;

/**
 * What a draw of samples says of a quantity.
 *
 * @param p10 nine in ten lie above
 * @param p50 half lie above
 * @param p90 one in ten lies above
 * @param error standard error of the least certain of the three, from how far they differ between
 *     parts of the draw
 */
public record Percentiles(double p10, double p50, double p90, double error) {
  private static final int PARTS = 20;

  static Percentiles of(double[] samples) {
    int n = samples.length / PARTS;
    double[] sums = new double[3];
    double[] squares = new double[3];
    for (int part = 0; part < PARTS; part++) {
      double[] q = three(Arrays.copyOfRange(samples, part * n, (part + 1) * n));
      for (int k = 0; k < 3; k++) {
        sums[k] += q[k];
        squares[k] += q[k] * q[k];
      }
    }
    double worst = 0;
    for (int k = 0; k < 3; k++) {
      double variance = (squares[k] - sums[k] * sums[k] / PARTS) / (PARTS - 1);
      worst = Math.max(worst, Math.sqrt(Math.max(0, variance) / PARTS));
    }
    double[] all = three(samples.clone());
    return new Percentiles(all[0], all[1], all[2], worst);
  }

  private static double[] three(double[] owned) {
    Arrays.sort(owned);
    return new double[] {at(owned, 0.1), at(owned, 0.5), at(owned, 0.9)};
  }

  private static double at(double[] sorted, double share) {
    double place = share * (sorted.length - 1);
    int below = (int) place;
    double rest = place - below;
    return rest == 0 ? sorted[below] : sorted[below] * (1 - rest) + sorted[below + 1] * rest;
  }
}

package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * Sums of generalised least squares of own increments on another's, with the tridiagonal covariance
 * of increments of independent means plus a random walk. It is factored as {@code U D Uᵀ} from the
 * newest increment backwards, so that after each {@link #add} the sums are those of the stretch
 * from that increment to the newest. With a trend, a polynomial of the increment's number is taken
 * out first. Not thread-safe.
 */
final class WeightedSums {
  private static final int MOST = 5;

  private final int terms;
  private final double[] turned = new double[MOST];
  private final double[][] sums = new double[MOST][MOST];
  private final double[][] left = new double[MOST][MOST];
  private double walk;

  /** What the increment last taken counts: one over its variance, given those after it. */
  private double share;

  private int count;
  private boolean stale;

  /** The sums without the trend: of the other by itself, of the other by own, of own by itself. */
  private double xx;

  private double xy;
  private double yy;
  private double turnedX;
  private double turnedY;

  /** Sums beside a trend of own of so many coefficients, 0 to 3. */
  WeightedSums(int trend) {
    terms = 2 + trend;
  }

  /** Starts with a random walk of this variance per increment. */
  void start(double newWalk) {
    walk = newWalk;
    startAgain();
  }

  /** Starts again with the same random walk. */
  void startAgain() {
    count = 0;
    xx = 0;
    xy = 0;
    yy = 0;
    if (terms > 2) {
      stale = true;
      for (double[] row : sums) {
        Arrays.fill(row, 0);
      }
    }
  }

  /**
   * Takes the increment before those taken.
   *
   * @param number its place in the window, about 0 to 1, for the trend
   * @param before variance of the noise of the mean it starts from
   * @param after variance of the noise of the mean it leads to
   * @param other the other's increment
   * @param own the own one
   */
  void add(double number, double before, double after, double other, double own) {
    double factor = count == 0 ? 0 : -after * share;
    share = 1 / (before + after + walk + factor * after);
    if (terms == 2) {
      addPlain(factor, other, own);
      return;
    }
    double power = 1;
    for (int q = 0; q < terms; q++) {
      double term = q == terms - 1 ? own : q == terms - 2 ? other : power;
      turned[q] = term - (count == 0 ? 0 : factor * turned[q]);
      power *= number;
    }
    for (int q = 0; q < terms; q++) {
      for (int r = q; r < terms; r++) {
        sums[q][r] += turned[q] * turned[r] * share;
      }
    }
    count++;
    stale = true;
  }

  private void addPlain(double factor, double other, double own) {
    double x = other - (count == 0 ? 0 : factor * turnedX);
    double y = own - (count == 0 ? 0 : factor * turnedY);
    turnedX = x;
    turnedY = y;
    xx += x * x * share;
    xy += x * y * share;
    yy += y * y * share;
    count++;
  }

  /** Makes of the sums what they leave when the trend is taken out, when it is asked for. */
  private void settle() {
    if (terms > 2 && stale) {
      takeOutTrend();
      xx = left[terms - 2][terms - 2];
      xy = left[terms - 2][terms - 1];
      yy = left[terms - 1][terms - 1];
      stale = false;
    }
  }

  private void takeOutTrend() {
    for (int q = 0; q < terms; q++) {
      for (int r = q; r < terms; r++) {
        left[q][r] = sums[q][r];
        left[r][q] = sums[q][r];
      }
    }
    for (int p = 0; p < terms - 2; p++) {
      for (int q = p + 1; q < terms; q++) {
        double f = left[p][p] > 0 ? left[q][p] / left[p][p] : 0;
        for (int r = p; r < terms; r++) {
          left[q][r] -= f * left[p][r];
        }
      }
    }
  }

  /** Regression coefficient of own on the other. */
  double gain() {
    settle();
    return xy / xx;
  }

  /** One over the coefficient's variance. */
  double weight() {
    settle();
    return xx;
  }

  /** Weighted squares that the regression leaves; its expectation is {@link #freedom()}. */
  double left() {
    settle();
    return yy - xy * xy / xx;
  }

  /** Increments taken less the coefficients fitted. */
  int freedom() {
    return count - terms + 1;
  }
}

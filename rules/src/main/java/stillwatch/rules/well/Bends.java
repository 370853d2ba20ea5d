package stillwatch.rules.well;

import java.util.List;

/**
 * For every run of build-up points up to the last one: how much its slope changes from one end to
 * the other, by a parabola through it. Sums are carried from the last point back, so that all runs
 * together cost no more than one.
 */
final class Bends {
  private static final int LEAST = 4;

  private final double[] share;
  private final double[] error;
  private final double[] height;
  private final double[] spread;

  /** All runs of these points, in order of time. */
  Bends(List<BuildUpPoint> points) {
    int n = points.size();
    share = new double[n];
    error = new double[n];
    height = new double[n];
    spread = new double[n];
    BuildUpPoint last = points.get(n - 1);
    double whole = points.get(0).abscissa() - last.abscissa();
    double[] x = new double[5]; // sums of powers
    double[] px = new double[3]; // sums of pressure times powers
    double pp = 0;
    for (int from = n - 1; from >= 0; from--) {
      BuildUpPoint q = points.get(from);
      double at = (q.abscissa() - last.abscissa()) / whole;
      double p = q.pressure() - last.pressure();
      double power = 1;
      for (int k = 0; k < x.length; k++) {
        x[k] += power;
        if (k < px.length) {
          px[k] += power * p;
        }
        power *= at;
      }
      pp += p * p;
      if (n - from >= LEAST) {
        run(from, x, px, pp, at / 2);
      }
    }
  }

  private void run(int from, double[] x, double[] px, double pp, double half) {
    double n = x[0];
    double m = x[1] / n;
    double mp = px[0] / n;
    double s2 = x[2] - n * m * m;
    double s3 = x[3] - 3 * m * x[2] + 3 * m * m * x[1] - n * m * m * m;
    double s4 = x[4] - 4 * m * x[3] + 6 * m * m * x[2] - 4 * m * m * m * x[1] + n * m * m * m * m;
    double t1 = px[1] - m * px[0];
    double t2 = px[2] - 2 * m * px[1] + m * m * px[0] - mp * s2;
    double tt = pp - n * mp * mp;
    // x squared made free of the mean and of x, so that its coefficient stands alone
    double square = s4 - s2 * s2 / n - s3 * s3 / s2;
    double slope = t1 / s2;
    double curve = (t2 - s3 / s2 * t1) / square;
    double line = Math.max(0, tt - t1 * t1 / s2);
    double rest = Math.max(0, line - curve * curve * square);
    double curveError = Math.sqrt(rest / Math.max(1, n - 3) / square);
    share[from] = Math.abs(4 * curve * half / slope);
    error[from] = Math.abs(4 * curveError * half / slope);
    height[from] = (Math.abs(curve) + 2 * curveError) * half * half;
    spread[from] = Math.sqrt(line / (n - 2));
  }

  /** The change of slope from end to end as a share of the slope. */
  double share(int from) {
    return share[from];
  }

  /** Its standard error. */
  double error(int from) {
    return error[from];
  }

  /** How far the parabola's ends stand off the line, two standard errors added. */
  double height(int from) {
    return height[from];
  }

  /** The spread about a straight line. */
  double spread(int from) {
    return spread[from];
  }
}

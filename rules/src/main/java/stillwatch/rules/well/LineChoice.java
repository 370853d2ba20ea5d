package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Finds the straight line of a build-up, or says why there is none yet. The line is the longest run
 * of points up to the last one along which the slope does not change, or no more than the readings
 * can tell; where there is none, the longest along which it changes little. A run that the filling
 * of the well has made straight for a moment is refused. No hour is fixed anywhere.
 *
 * @param line the line; null when there is none
 * @param refusal why not, one sentence; empty when there is
 */
public record LineChoice(@Nullable SemilogLine line, String refusal) {
  private static final int LEAST_POINTS = 5;

  /** The last point's time since shut-in over the first's, at least. */
  private static final double LEAST_SPAN = 2;

  /** A slope that changes so much from one end to the other, as a share of itself, does not. */
  private static final double NO_CHANGE = 0.03;

  /** One that changes so much changes little. */
  private static final double CHANGE = 0.15;

  /** And even so much when two standard errors are added. */
  private static final double CHANGE_SURE = 0.3;

  /** A bend of this share of the pressure is none, whatever the slope: a level may be flat. */
  private static final double FLAT = 2e-5;

  /** Points that stand this share of the pressure off their line are not straight. */
  private static final double SPREAD = 5e-5;

  /** A rise of less than this share of the pressure is no filling. */
  private static final double NO_RISE = 1e-4;

  /** Neighbours of the derivative are at least so many log10 cycles away. */
  private static final double DISTANCE = 0.1;

  /** A derivative that was below this share of the line's slope before it was still rising. */
  private static final double RISING = 0.6;

  /** One above this multiple of it was the hump of storage, now over. */
  private static final double HUMP = 1.5;

  /**
   * The line of these points.
   *
   * @param all in order of time, without the moment of the shut-in itself
   */
  public static LineChoice of(List<BuildUpPoint> all) {
    List<BuildUpPoint> points = all.stream().filter(p -> p.hours() > 0).toList();
    int n = points.size();
    if (n < LEAST_POINTS) {
      return none("There are only " + n + " points; a line needs " + LEAST_POINTS + ".");
    }
    double end = points.get(n - 1).hours();
    if (end < LEAST_SPAN * points.get(0).hours()) {
      return none("The points cover too short a stretch of time.");
    }
    Bends bends = new Bends(points);
    int straight = -1;
    int nearly = -1;
    for (int from = 0; from <= n - LEAST_POINTS && straight < 0; from++) {
      if (end < LEAST_SPAN * points.get(from).hours()) {
        break;
      }
      double change = bends.share(from);
      double error = bends.error(from);
      if (bends.height(from) < FLAT * points.get(n - 1).pressure()) {
        straight = from;
      } else if (change + 2 * error <= CHANGE_SURE) {
        boolean none = change <= Math.max(NO_CHANGE, 2 * error);
        if (none && bends.spread(from) <= SPREAD * points.get(n - 1).pressure()) {
          straight = from;
        } else if (change <= CHANGE && nearly < 0) {
          nearly = from;
        }
      }
    }
    int from = straight >= 0 ? straight : nearly;
    if (from < 0) {
      return none(
          "The slope still changes along the points: storage has not ended, or something bends the"
              + " build-up.");
    }
    SemilogLine line = SemilogLine.through(points.subList(from, n));
    return stillFilling(points, from, line)
        ? none(
            "The slope was still growing just before the points that look straight: the well"
                + " itself is filling (wellbore storage).")
        : new LineChoice(line, "");
  }

  private static LineChoice none(String why) {
    return new LineChoice(null, why);
  }

  /** In storage the derivative rises towards its hump, on top of which points look straight. */
  private static boolean stillFilling(List<BuildUpPoint> points, int from, SemilogLine line) {
    int n = points.size();
    double[] x = new double[n];
    double[] p = new double[n];
    for (int i = 0; i < n; i++) {
      x[i] = -points.get(i).abscissa();
      p[i] = points.get(i).pressure();
    }
    double[] derivative = LogDerivative.of(x, p, DISTANCE);
    double slope = -line.slope();
    double rise = slope * (x[n - 1] - x[from]);
    if (rise < NO_RISE * p[n - 1]) {
      return false;
    }
    List<Double> before = new ArrayList<>();
    for (int i = 0; i < from; i++) {
      boolean lastDecade = points.get(i).hours() > line.fromHours() / 10;
      if (!Double.isNaN(derivative[i]) && lastDecade) {
        before.add(derivative[i] / slope);
      }
    }
    boolean low = before.stream().anyMatch(d -> d < RISING);
    boolean hump = before.stream().anyMatch(d -> d > HUMP);
    return low && !hump;
  }
}

package stillwatch.rules.well;

import java.util.List;
import org.hipparchus.distribution.continuous.TDistribution;

/**
 * A least-squares line through build-up points against superposition time.
 *
 * @param fromHours time since shut-in of its first point
 * @param toHours of its last
 * @param points how many
 * @param slope pressure per log10 cycle of superposition time; negative while the pressure builds
 * @param extrapolated the pressure where superposition time is nothing: at infinite shut-in time
 * @param spread root of the mean squared residual with n − 2 degrees of freedom
 * @param slopeError standard error of the slope, residuals taken as independent
 * @param extrapolatedError standard error of the extrapolated pressure, likewise
 */
public record SemilogLine(
    double fromHours,
    double toHours,
    int points,
    double slope,
    double extrapolated,
    double spread,
    double slopeError,
    double extrapolatedError) {

  /**
   * The line through these points.
   *
   * @param points three or more, in order of time
   */
  public static SemilogLine through(List<BuildUpPoint> points) {
    int n = points.size();
    if (n < 3) {
      throw new IllegalArgumentException("a line with its spread needs three points or more");
    }
    double mx = points.stream().mapToDouble(BuildUpPoint::abscissa).sum() / n;
    double mp = points.stream().mapToDouble(BuildUpPoint::pressure).sum() / n;
    double xx = 0;
    double xp = 0;
    double pp = 0;
    for (BuildUpPoint q : points) {
      double x = q.abscissa() - mx;
      double p = q.pressure() - mp;
      xx += x * x;
      xp += x * p;
      pp += p * p;
    }
    double slope = xp / xx;
    double spread = Math.sqrt(Math.max(0, pp - slope * xp) / (n - 2));
    return new SemilogLine(
        points.get(0).hours(),
        points.get(n - 1).hours(),
        n,
        slope,
        mp - slope * mx,
        spread,
        spread / Math.sqrt(xx),
        spread * Math.sqrt(1.0 / n + mx * mx / xx));
  }

  /** The pressure on the line at a superposition time. */
  public double at(double abscissa) {
    return extrapolated + slope * abscissa;
  }

  /**
   * Half the width of the extrapolated pressure's confidence interval by Student's t, residuals
   * taken as independent.
   *
   * @param level like 0.9
   */
  public double halfWidth(double level) {
    return extrapolatedError
        * new TDistribution(points - 2.0).inverseCumulativeProbability((1 + level) / 2);
  }
}

package stillwatch.rules.plan;

import java.util.List;

/**
 * What the shut-in pressure means, kPa. Between {@code leakHighKPa} and {@code intactLowKPa} it is
 * ambiguous.
 *
 * @param intactLowKPa at or above this the level is consistent with an intact well that has built
 *     up
 * @param leakHighKPa at or below this the level is consistent with a leak
 * @param ceilingKPa never to be exceeded
 * @param intactLowByTime the same edge while it builds up, by hours since the shut-in; empty where
 *     it is taken to be the same always
 */
public record Bands(
    double intactLowKPa, double leakHighKPa, double ceilingKPa, List<ByTime> intactLowByTime) {
  /** An edge of a band so many hours after the shut-in. */
  public record ByTime(double hours, double kPa) {}

  /** These bands so many hours after the shut-in; NaN where nobody knows. */
  public Bands after(double hours) {
    if (intactLowByTime.isEmpty() || Double.isNaN(hours)) {
      return this;
    }
    ByTime before = intactLowByTime.get(0);
    double edge = before.kPa();
    for (ByTime next : intactLowByTime) {
      if (next.hours() > before.hours() && hours > before.hours()) {
        double share =
            StrictMath.log(hours / before.hours()) / StrictMath.log(next.hours() / before.hours());
        edge = before.kPa() + Math.min(1, share) * (next.kPa() - before.kPa());
      }
      before = next;
    }
    return new Bands(edge, leakHighKPa, ceilingKPa, intactLowByTime);
  }
}

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
 * @param byTime the two lower edges while it builds up, by hours since the shut-in; empty where
 *     they are taken to be the same always
 */
public record Bands(
    double intactLowKPa, double leakHighKPa, double ceilingKPa, List<ByTime> byTime) {
  /** The edges of the bands so many hours after the shut-in. */
  public record ByTime(double hours, double intactLowKPa, double leakHighKPa) {
    /** Edges between these and later ones, straight against the logarithm of time. */
    private ByTime towards(ByTime later, double atHours) {
      double share =
          Math.min(1, StrictMath.log(atHours / hours) / StrictMath.log(later.hours() / hours));
      return new ByTime(
          atHours,
          intactLowKPa + share * (later.intactLowKPa() - intactLowKPa),
          leakHighKPa + share * (later.leakHighKPa() - leakHighKPa));
    }
  }

  /** These bands so many hours after the shut-in; as they are where that is NaN. */
  public Bands after(double hours) {
    if (byTime.isEmpty() || Double.isNaN(hours)) {
      return this;
    }
    ByTime before = byTime.get(0);
    ByTime edges = before;
    for (ByTime next : byTime) {
      if (next.hours() > before.hours() && hours > before.hours()) {
        edges = before.towards(next, hours);
      }
      before = next;
    }
    return new Bands(edges.intactLowKPa(), edges.leakHighKPa(), ceilingKPa, byTime);
  }
}

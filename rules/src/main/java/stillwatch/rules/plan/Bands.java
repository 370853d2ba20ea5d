package stillwatch.rules.plan;

/**
 * What the shut-in pressure means, kPa. Between {@code leakHighKPa} and {@code intactLowKPa} it is
 * ambiguous.
 *
 * @param intactLowKPa at or above this the level is consistent with an intact well
 * @param leakHighKPa at or below this the level is consistent with a leak
 * @param ceilingKPa never to be exceeded
 */
public record Bands(double intactLowKPa, double leakHighKPa, double ceilingKPa) {}

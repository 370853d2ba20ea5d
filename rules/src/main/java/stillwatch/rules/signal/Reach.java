package stillwatch.rules.signal;

/**
 * When a gauge is expected at a level, seconds from its last reading; infinite when it does not
 * rise, NaN when nothing is expected yet.
 *
 * @param seconds if it goes on as steeply as now
 * @param soonest by the steeper of its present and its last hour's course
 * @param latest by the less steep of the two
 */
public record Reach(double seconds, double soonest, double latest) {}

package stillwatch.rules.indicator;

/**
 * When a group is expected at the ceiling, seconds from now; infinite when it does not rise.
 *
 * @param underS the seconds in which at least so many as must agree get there
 * @param leastS the fewest of any, NaN when one is not known
 * @param soonestS the soonest of any, by the steeper of present and last hour's course
 * @param latestS the latest of any, by the less steep of the two
 * @param holdPointS when the next hold point is, seconds from now, negative when it is past;
 *     infinite when none is set
 */
public record CeilingTimes(
    double underS, double leastS, double soonestS, double latestS, double holdPointS) {}

package stillwatch.rules.indicator;

/**
 * Where a closing or an opening departs from the plan.
 *
 * @param well the well's id
 * @param nowMs log time
 * @param direction {@code closing} or {@code opening}
 * @param kind in what: {@code go}, {@code order}, {@code hold} or {@code response}
 * @param subject the cycle or the opening, and the step, for people
 * @param atMs when the step was, source's time
 * @param sinceS how long ago the log showed it first, seconds
 * @param why one sentence without its stop
 */
public record DepartureIndicator(
    String well,
    long nowMs,
    String direction,
    String kind,
    String subject,
    long atMs,
    double sinceS,
    String why) {}

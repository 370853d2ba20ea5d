package stillwatch.rules.indicator;

/**
 * What is known of the sources' clocks.
 *
 * @param lateStreak readings in a row, of the gauge with most, stamped before one already taken
 * @param backS how far back the last of them is stamped, seconds
 * @param aheadS how far the newest frame is stamped ahead of its reception, seconds
 * @param refused readings refused since the last minute because they are stamped too far ahead
 * @param movedS how far a source is timed otherwise than by its own stamps, seconds: positive when
 *     its stamps lie in the past; 0 when none is
 */
public record ClockIndicator(
    long lateStreak, double backS, double aheadS, int refused, double movedS) {}

package stillwatch.rules.indicator;

/**
 * How long the shut-in pressure has been low, on the lowest gauge that may raise an alarm. Both
 * clocks run from when the last closure step has settled at the earliest, and a level above the
 * limit for less than a few minutes does not set them back.
 *
 * @param running the well is shut in, so that low means something
 * @param leakS seconds at or below the leak band's upper edge
 * @param leakSinceMs since when, source's time; of no meaning while that is zero
 * @param belowS seconds below the intact band
 * @param belowSinceMs since when, source's time; of no meaning while that is zero
 * @param slope slope an hour over the last hour, the tide taken out, kPa/h; NaN when not known
 * @param slopeError its standard error
 */
public record LowTime(
    boolean running,
    double leakS,
    long leakSinceMs,
    double belowS,
    long belowSinceMs,
    double slope,
    double slopeError) {}

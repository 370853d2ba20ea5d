package stillwatch.rules.indicator;

/**
 * What the newest review of the build-up says, of the first gauge of a group that can be trusted.
 *
 * @param well the well's id
 * @param twin the group
 * @param gauge whose readings it is based on
 * @param nowMs log time
 * @param reviewedMs the newest source's time in it
 * @param sinceShutInS how long after the shut-in, seconds; NaN when it is opened again
 * @param lineFromS from how long after the shut-in the build-up is straight against superposition
 *     time, seconds; NaN when it is not
 * @param slope its slope per log10 cycle at the full rate, kPa
 * @param slopeError standard deviation of that
 * @param extrapolated where it leads, kPa; NaN without a line
 * @param extrapolatedLow below this with one chance in twenty
 * @param extrapolatedHigh above this with one chance in twenty
 * @param bend how far the last readings are off what the older ones forecast, kPa; NaN when that
 *     cannot be said
 * @param bendError standard deviation of the forecast
 * @param intactLow lower edge of the band of a built-up intact well, kPa
 * @param refusal why there is no line; empty when there is
 */
public record BuildUpIndicator(
    String well,
    String twin,
    String gauge,
    long nowMs,
    long reviewedMs,
    double sinceShutInS,
    double lineFromS,
    double slope,
    double slopeError,
    double extrapolated,
    double extrapolatedLow,
    double extrapolatedHigh,
    double bend,
    double bendError,
    double intactLow,
    String refusal) {}

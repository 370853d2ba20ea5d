package stillwatch.rules.indicator;

/**
 * What one gauge's track says. Values in the base unit of its kind, durations in seconds; NaN where
 * not known yet.
 *
 * @param well the well's id
 * @param gauge the gauge's id
 * @param kind what it measures: pressure, temperature, sound, tilt, flow
 * @param role what it senses: shut-in, ambient, other
 * @param twin the group it belongs to; its own id when it stands alone
 * @param atMs the source's time of the last believable reading
 * @param nowMs log time
 * @param trusted it has spoken and no gauge rule holds against it
 * @param lastValue the last believable reading
 * @param level the robust level
 * @param slope10m slope an hour over ten minutes
 * @param slope1h slope an hour over an hour, as of the last whole minute
 * @param slope3h slope an hour over three hours, as of the last whole minute
 * @param fall60s how far the level is under its highest of the last minute
 * @param fall10m how far the level is under its highest of the last ten minutes
 * @param noise standard deviation from reading to reading
 * @param unchangedS how long the last value has repeated
 * @param unchangedSinceMs since when, source's time
 * @param habitS the longest it usually repeats
 * @param changes how many changes it has shown
 * @param silentS how long nothing has come from it, log time
 * @param silentSinceMs since when, log time
 * @param outOfRange a reading since the last indicator was outside its range
 * @param outOfRangeS how long its readings have been outside its range; 0 when the last was inside
 * @param outOfRangeSinceMs since when, source's time
 * @param lastOutOfRange the last reading outside its range
 * @param periodS how often it should speak
 * @param accuracy its accuracy
 * @param resolution its smallest step
 * @param intactLow lower edge of the intact band
 * @param leakHigh upper edge of the leak band
 * @param ceiling the ceiling
 * @param slopeFree slope an hour over three hours with the sea's tide taken out where there is an
 *     ambient gauge
 * @param slopeFreeError its standard error
 * @param departure ten-second mean less what was expected of it
 * @param departureSigma the departure's usual size, a standard deviation
 * @param shortSum cumulative sum of falling short of the expectation, in those deviations
 * @param shortSinceMs when the present falling short began
 * @param ceilingS when it is expected at the ceiling, seconds from now; infinite when it does not
 *     rise
 * @param ceilingSoonS the same, by the steeper of its present and its last hour's course
 * @param ceilingLateS the same, by the less steep of the two
 * @param jitter how much it goes to and fro
 * @param usualJitter how much it usually does
 * @param lively share of its changes that are turns of two steps or more
 * @param straightS how long readings have lain on one straight line
 * @param spikes spikes in about the last ten minutes
 * @param rise how far a sound level stands over its background, dB
 * @param background the background, dB
 * @param odd its twins contradict it
 * @param oddWhy how, for people
 * @param calmTwin a twin of it is trusted and does not jitter more than usual
 */
public record GaugeIndicator(
    String well,
    String gauge,
    String kind,
    String role,
    String twin,
    long atMs,
    long nowMs,
    boolean trusted,
    double lastValue,
    double level,
    double slope10m,
    double slope1h,
    double slope3h,
    double fall60s,
    double fall10m,
    double noise,
    double unchangedS,
    long unchangedSinceMs,
    double habitS,
    long changes,
    double silentS,
    long silentSinceMs,
    boolean outOfRange,
    double outOfRangeS,
    long outOfRangeSinceMs,
    double lastOutOfRange,
    double periodS,
    double accuracy,
    double resolution,
    double intactLow,
    double leakHigh,
    double ceiling,
    double slopeFree,
    double slopeFreeError,
    double departure,
    double departureSigma,
    double shortSum,
    long shortSinceMs,
    double ceilingS,
    double ceilingSoonS,
    double ceilingLateS,
    double jitter,
    double usualJitter,
    double lively,
    double straightS,
    double spikes,
    double rise,
    double background,
    boolean odd,
    String oddWhy,
    boolean calmTwin) {}

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
 * @param outOfRangeS how long its readings have been outside its range; 0 when the last was inside
 * @param outOfRangeSinceMs since when, source's time
 * @param lastOutOfRange the last reading outside its range
 * @param periodS how often it should speak
 * @param accuracy its accuracy
 * @param resolution its smallest step
 * @param intactLow lower edge of the intact band
 * @param leakHigh upper edge of the leak band
 * @param ceiling the ceiling
 * @param sinceOpeningS how long ago an opening or a valve movement was logged; infinite when never
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
    double outOfRangeS,
    long outOfRangeSinceMs,
    double lastOutOfRange,
    double periodS,
    double accuracy,
    double resolution,
    double intactLow,
    double leakHigh,
    double ceiling,
    double sinceOpeningS) {}

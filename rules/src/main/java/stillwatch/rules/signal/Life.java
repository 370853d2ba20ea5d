package stillwatch.rules.signal;

/**
 * Whether a gauge moves as a living one does.
 *
 * @param silentS how long no reading has come from it, seconds of log time
 * @param silentSinceMs since when, log time
 * @param unchangedS how long the last value has repeated, seconds
 * @param unchangedSinceMs since when, source's time
 * @param habitS the longest it usually repeats, seconds
 * @param changes how many changes it has shown
 * @param straightS how long readings have lain on one straight line, seconds
 * @param lively share of its changes that are turns of two steps or more
 */
public record Life(
    double silentS,
    long silentSinceMs,
    double unchangedS,
    long unchangedSinceMs,
    double habitS,
    long changes,
    double straightS,
    double lively) {}

package stillwatch.rules.indicator;

/**
 * Whether anything comes at all.
 *
 * @param well the well's id
 * @param nowMs log time
 * @param feedSilentS how long no frame has come, seconds of log time
 * @param feedSilentSinceMs since when
 */
public record FeedIndicator(String well, long nowMs, double feedSilentS, long feedSilentSinceMs) {}

package stillwatch.rules.indicator;

import java.util.List;

/**
 * What the whole well says at one moment. A rule takes one group of twins after the other with
 * {@code from WellIndicator[twins]}.
 *
 * @param well the well's id
 * @param nowMs log time
 * @param feedSilentS how long no frame has come, seconds of log time
 * @param feedSilentSinceMs since when
 * @param twins each group of twins
 */
public record WellIndicator(
    String well,
    long nowMs,
    double feedSilentS,
    long feedSilentSinceMs,
    List<TwinsIndicator> twins) {}

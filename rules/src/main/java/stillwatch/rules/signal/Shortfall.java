package stillwatch.rules.signal;

/**
 * How a gauge keeps to its own expected course; NaN where nothing is expected yet and for kinds
 * other than pressure.
 *
 * @param departure the last mean less what was expected of it
 * @param sigma the departure's usual size, a standard deviation
 * @param shortSum cumulative sum of falling short, in those deviations
 * @param usualPeak the largest such sum that the gauge's own wander usually makes, to either side
 * @param shortSinceMs when the present falling short began, source's time
 * @param usualSwing how far it usually changes by itself over ten minutes or three periods, a
 *     standard deviation; one and a half accuracies until known
 * @param below how far the last mean is under the highest block of the last hour, zero or more
 */
public record Shortfall(
    double departure,
    double sigma,
    double shortSum,
    double usualPeak,
    long shortSinceMs,
    double usualSwing,
    double below) {}

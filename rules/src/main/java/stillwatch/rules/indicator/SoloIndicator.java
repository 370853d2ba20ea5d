package stillwatch.rules.indicator;

/**
 * What one gauge of the shut-in pressure sees and no other does. There is one for each gauge that
 * has others beside it.
 *
 * @param well the well's id
 * @param gauge the gauge's id
 * @param nowMs log time
 * @param atMs the source's time of its last reading
 * @param lost loss of a level that had been held, which no other shows; zero when another does
 * @param heldToMs the last time that level was held
 * @param quick the most that was lost within 80 s of that span, or over two levels more where these
 *     lie further apart
 * @param usual the gauge's own usual change over that span
 * @param spanS over how long that was looked for, seconds
 * @param shortSum cumulative sum of falling short of its expectation, which no other shows
 * @param usualPeak the largest such sum that its own wander makes
 * @param usualSwing how far it usually changes by itself over ten minutes
 * @param shortSinceMs when that began
 * @param below how far it is under the highest of its last hour
 * @param declineSure how fast it declines over three hours less twice the error, an hour, which no
 *     other shows
 * @param level its level
 * @param accuracy its accuracy
 * @param allowed how large a fall the last operations or the sea's swing explain now, kPa
 * @param opening the well is being opened, so that falls that last are what they should be
 * @param others how many others may raise an alarm
 * @param priority the priority of the worst explanation that is still credible
 * @param seen who does not see it, for people; empty where nothing worth a thought is lost
 * @param evidence what speaks for the well and for the gauge, for people; likewise
 */
public record SoloIndicator(
    String well,
    String gauge,
    long nowMs,
    long atMs,
    double lost,
    long heldToMs,
    double quick,
    double usual,
    double spanS,
    double shortSum,
    double usualPeak,
    double usualSwing,
    long shortSinceMs,
    double below,
    double declineSure,
    double level,
    double accuracy,
    double allowed,
    boolean opening,
    int others,
    String priority,
    String seen,
    String evidence) {}

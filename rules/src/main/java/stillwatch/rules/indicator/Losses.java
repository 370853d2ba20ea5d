package stillwatch.rules.indicator;

/**
 * What a group has lost, by votes: two of those that can be believed must show it, or the one that
 * is left. {@code …Any} is the largest of any, NaN when one is not known.
 *
 * @param lost loss of a level that had been held
 * @param lostAny the same of any
 * @param heldToMs the last time the level was held of which that was lost, source's time
 * @param quick the most that was lost within 80 s of that span, or over two levels more where these
 *     lie further apart
 * @param usual the largest usual change of any of them over that span, a standard deviation
 * @param spanS over how long that was looked for, seconds, the longest
 * @param shortSum cumulative sum of falling short of the expectation
 * @param shortSumAny the same of any
 * @param usualPeak the largest sum that their own wander makes
 * @param usualSwing how far they usually change by themselves over ten minutes, the largest
 * @param shortSinceMs when the latest of those that fall short began to
 * @param missing how far the level is short of the expectation
 * @param below how far it is under the highest of the last hour
 * @param decline slope downward an hour over three hours, tide and cooling taken out
 * @param declineAny the same of any
 * @param declineSure the same less twice its standard error
 * @param declineError the largest standard error
 * @param how how tide and cooling were taken out, for people
 */
public record Losses(
    double lost,
    double lostAny,
    long heldToMs,
    double quick,
    double usual,
    double spanS,
    double shortSum,
    double shortSumAny,
    double usualPeak,
    double usualSwing,
    long shortSinceMs,
    double missing,
    double below,
    double decline,
    double declineAny,
    double declineSure,
    double declineError,
    String how) {}

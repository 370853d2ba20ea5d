package stillwatch.rules.indicator;

import java.util.List;

/**
 * What a group of twins says together; a gauge that stands alone is a group of one, and all
 * hydrophones are one group. Rules vote: two of those that can be trusted must show a thing, or the
 * one that is left. So a value without a suffix is the one that at least {@code votes} gauges reach
 * ({@code …Under}: are at or under); {@code …Any} is the largest of any, NaN when one is not known,
 * for saying that a thing is over for all of them.
 *
 * @param well the well's id
 * @param twin the group's name
 * @param kind what they measure
 * @param role what they sense: shut-in, ambient, barrier, other
 * @param nowMs log time
 * @param atMs the newest source's time among them
 * @param standing how many can be trusted now
 * @param votes how many must agree: two, or as many as stand, but one at least
 * @param trusted what those say
 * @param level the level that at least so many reach
 * @param levelUnder the level that at least so many are at or under
 * @param levelAny the highest level
 * @param levelLowest the lowest level, NaN when one is not known
 * @param steepUnder the size of the slope over ten minutes that at least so many are at or under
 * @param steepLeast the least steep, NaN when one is not known
 * @param slope10m slope an hour over ten minutes
 * @param slope10mAny the same of any
 * @param fall60s fall within a minute
 * @param fall60sAny the same of any
 * @param fall10m fall within ten minutes
 * @param fall10mAny the same of any
 * @param shortSum cumulative sum of falling short of the expectation
 * @param shortSumAny the same of any
 * @param shortSinceMs when the latest of those that fall short began to
 * @param missing how far the level is short of the expectation
 * @param decline slope downward an hour over three hours, tide taken out
 * @param declineAny the same of any
 * @param declineSure the same less twice its standard error
 * @param declineError the largest standard error
 * @param ceilingUnderS the seconds in which at least so many are expected at the ceiling
 * @param ceilingLeastS the fewest of any, NaN when one is not known
 * @param ceilingSoonS the soonest of any, by the steeper of present and last hour's course
 * @param ceilingLateS the latest of any, by the less steep of the two
 * @param riseAny the largest rise of sound over its background
 * @param riseSecond the second largest; NaN when only one is known
 * @param accuracy the least accurate one's accuracy
 * @param intactLow lower edge of the intact band, kPa
 * @param leakHigh upper edge of the leak band, kPa
 * @param ceiling the ceiling, kPa
 * @param sinceOperationS how long ago a closure step, an opening or a valve movement was logged, by
 *     the sources' time; infinite when never
 * @param operation what was logged then, for people
 * @param sinceVesselS how long ago a vessel or a vehicle near the well was logged; infinite when
 *     never
 * @param holdPointS when the next hold point is, seconds from now, negative when it is past;
 *     infinite when none is set
 * @param tide how the tide was taken out of slow slopes, for people
 */
public record TwinsIndicator(
    String well,
    String twin,
    String kind,
    String role,
    long nowMs,
    long atMs,
    int standing,
    int votes,
    List<GaugeIndicator> trusted,
    double level,
    double levelUnder,
    double levelAny,
    double levelLowest,
    double steepUnder,
    double steepLeast,
    double slope10m,
    double slope10mAny,
    double fall60s,
    double fall60sAny,
    double fall10m,
    double fall10mAny,
    double shortSum,
    double shortSumAny,
    long shortSinceMs,
    double missing,
    double decline,
    double declineAny,
    double declineSure,
    double declineError,
    double ceilingUnderS,
    double ceilingLeastS,
    double ceilingSoonS,
    double ceilingLateS,
    double riseAny,
    double riseSecond,
    double accuracy,
    double intactLow,
    double leakHigh,
    double ceiling,
    double sinceOperationS,
    String operation,
    double sinceVesselS,
    double holdPointS,
    String tide) {}

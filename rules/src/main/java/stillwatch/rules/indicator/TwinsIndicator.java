package stillwatch.rules.indicator;

import java.util.List;

/**
 * What a group of twins says together; a gauge that stands alone is a group of one, all hydrophones
 * are one group, and so are all gauges of the shut-in pressure. Rules vote: two of those that can
 * be believed must show a thing, or the one that is left. A rule reads a column of a part as {@code
 * losses.lost}.
 *
 * @param well the well's id
 * @param twin the group's name
 * @param kind what they measure
 * @param role what they sense: shut-in, ambient, barrier, other
 * @param nowMs log time
 * @param atMs the newest source's time among them
 * @param standing how many reassure now
 * @param alarming how many may raise an alarm now
 * @param votes how many must agree: two, or as many as may raise an alarm, but one at least
 * @param accuracy the least accurate one's accuracy
 * @param slope10m slope an hour over ten minutes, by votes
 * @param slope10mAny the largest such slope of any, NaN when one is not known
 * @param trusted what those say that reassure
 * @param levels levels, and what the plan says of them
 * @param losses what was lost
 * @param low how long the pressure has been low
 * @param ceilingTimes when it is expected at the ceiling
 * @param riseAny the largest rise of sound over its background
 * @param riseSecond the second largest; NaN when only one is known
 * @param near what was logged nearby
 */
public record TwinsIndicator(
    String well,
    String twin,
    String kind,
    String role,
    long nowMs,
    long atMs,
    int standing,
    int alarming,
    int votes,
    double accuracy,
    double slope10m,
    double slope10mAny,
    List<GaugeIndicator> trusted,
    Levels levels,
    Losses losses,
    LowTime low,
    CeilingTimes ceilingTimes,
    double riseAny,
    double riseSecond,
    Near near) {

  /** The level that at least so many as must agree reach, of those that reassure. */
  public double level() {
    return levels.level();
  }
}

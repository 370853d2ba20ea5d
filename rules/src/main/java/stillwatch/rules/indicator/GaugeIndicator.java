package stillwatch.rules.indicator;

import stillwatch.rules.signal.Course;
import stillwatch.rules.signal.Fall;
import stillwatch.rules.signal.Hearing;
import stillwatch.rules.signal.Life;
import stillwatch.rules.signal.Noisiness;
import stillwatch.rules.signal.Range;
import stillwatch.rules.signal.Reach;
import stillwatch.rules.signal.Shortfall;

/**
 * What one gauge's track says, by subject. A rule reads a column of a group as {@code
 * course.level}; {@code level}, {@code lastValue} and {@code trusted} stand by themselves too.
 *
 * @param well the well's id
 * @param gauge the gauge's id
 * @param kind what it measures: pressure, temperature, sound, tilt, flow
 * @param role what it senses: shut-in, ambient, barrier, other
 * @param twin the group it belongs to; its own id when it stands alone
 * @param atMs the source's time of the last believable reading
 * @param nowMs log time
 * @param periodS how often it should speak
 * @param accuracy its accuracy
 * @param resolution its smallest step
 * @param trust how far it can be believed
 * @param course where it stands and which way it goes
 * @param fall what it lost within a minute
 * @param life whether it moves as a living gauge does
 * @param range whether it reads what can be
 * @param shortfall how it keeps to its own expected course
 * @param noisiness how it goes to and fro
 * @param hearing a sound level against its background
 * @param ceiling when it is expected at the ceiling
 */
public record GaugeIndicator(
    String well,
    String gauge,
    String kind,
    String role,
    String twin,
    long atMs,
    long nowMs,
    double periodS,
    double accuracy,
    double resolution,
    Trust trust,
    Course course,
    Fall fall,
    Life life,
    Range range,
    Shortfall shortfall,
    Noisiness noisiness,
    Hearing hearing,
    Reach ceiling) {

  /** The robust level. */
  public double level() {
    return course.level();
  }

  /** The last believable reading. */
  public double lastValue() {
    return course.lastValue();
  }

  /** Whether it has delivered a reading and no rule that excludes gauges stands against it. */
  public boolean trusted() {
    return trust.reassures();
  }
}

package stillwatch.rules.account;

import java.util.List;
import stillwatch.rules.finding.Hypothesis;

/**
 * A change of the well as it stands at one moment.
 *
 * @param id twelve hexadecimal digits: a hash of well, sense and onset
 * @param sense the sense that reported it: pressure, sound, heat, seafloor
 * @param rule the rule that reported it first
 * @param onsetMs when it began, source's time
 * @param size how much is lost now of what stood before it, in the sense's unit, by the gauge that
 *     lost most; negative is gained; zero for senses without a level
 * @param peak the most that was lost
 * @param before the level before it of that gauge; NaN for senses without a level
 * @param level the level now of that gauge; NaN likewise
 * @param witnesses the gauges that felt it, and those that could have
 * @param nearby what was logged near it, for people; empty when nothing was
 * @param hypotheses well, gauge, operation, surroundings, in this order
 * @param state where it stands
 * @param closedBy what or who closed it, for people; empty while it is open
 * @param closedMs when that was, log time; 0 while it is open
 */
public record Change(
    String id,
    String sense,
    String rule,
    long onsetMs,
    double size,
    double peak,
    double before,
    double level,
    List<Witness> witnesses,
    String nearby,
    List<Hypothesis> hypotheses,
    State state,
    String closedBy,
    long closedMs) {

  /** A level counts as back within this share of what was lost at most. */
  public static final double BACK_SHARE = 0.25;

  /** Where a change stands. */
  public enum State {
    /** Nothing and nobody has explained it. */
    OPEN,
    /** An operation explains it if it comes back in time. */
    EXPECTED_BACK,
    /** It is back on the course that was expected before it. */
    BACK,
    /** A person, an operation or evidence explains it. */
    EXPLAINED
  }

  /** Whether it is open. */
  public boolean open() {
    return state == State.OPEN;
  }

  /** The hypothesis of a cause. */
  public Hypothesis hypothesis(Hypothesis.Cause cause) {
    return hypotheses.stream().filter(h -> h.cause() == cause).findFirst().orElseThrow();
  }
}

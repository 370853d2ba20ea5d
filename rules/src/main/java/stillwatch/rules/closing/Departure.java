package stillwatch.rules.closing;

import java.util.Locale;

/**
 * Where a closing or an opening departs from the plan.
 *
 * @param direction whether it is a closing or an opening
 * @param kind in what
 * @param subject the cycle or the opening, and the step, for people; no other departure of this
 *     kind and direction has it
 * @param atMs when the step was, source's time
 * @param knownMs when the log showed it first, log time
 * @param why one sentence without its stop
 */
public record Departure(
    Direction direction, Kind kind, String subject, long atMs, long knownMs, String why) {
  /** In what a closing or an opening departs. */
  public enum Kind {
    /** Its first step was taken without a go. */
    GO,
    /** A step was taken out of the list's order. */
    ORDER,
    /** A step was taken before the hold of the one before was over. */
    HOLD,
    /** The pressure did not do after a step what the plan expects. */
    RESPONSE;

    /** The name in rules, for example {@code hold}. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT);
    }
  }
}

package stillwatch.rules.book;

import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Dimension;

/**
 * A limit or delay of a rule that a plan may set.
 *
 * @param name the name in plans and in the rule's EPL
 * @param dimension what it is, and so its unit
 * @param standard the value where the plan says nothing, in the dimension's base unit
 * @param about one sentence: what it does, what a larger value costs
 * @param tuning between which values tuning tries it; null when tuning leaves it alone
 * @param follows the limit of the same rule in proportion to which tuning moves it; null when none
 * @param clock the clock of the room that runs to this time, for example {@code low}; null when
 *     none does
 */
public record Parameter(
    String name,
    Dimension dimension,
    double standard,
    String about,
    @Nullable Range tuning,
    @Nullable String follows,
    @Nullable String clock) {
  /** From a value above zero to a larger one, in the dimension's base unit. */
  public record Range(double from, double to) {}
}

package stillwatch.rules.plan;

import java.util.Locale;

/**
 * Something that must be so before the first step of the test.
 *
 * @param name its short name, by which it is ticked
 * @param text what must be so, for people
 * @param owner who answers for it
 * @param knownBy how it is known
 * @param means by which means somebody must have looked; empty for everything but a pass
 */
public record Condition(String name, String text, String owner, KnownBy knownBy, String means) {
  /** How a condition is known. */
  public enum KnownBy {
    /** A person ticks it by name, in the log. */
    TICK,
    /** Somebody looked by its means, and all was clear. */
    PASS,
    /** Every gauge has delivered readings, and no alarm about a gauge is active. */
    GAUGES,
    /** The plan has two gauges or more of the shut-in pressure. */
    TWINS,
    /** The plan has a notification route. */
    ROUTES,
    /** The plan gives a sign of life to a check outside. */
    OUTSIDE_CHECK,
    /** The plan's facts suffice to expect a pressure. */
    FACTS,
    /** By the plan's reopening the capacity holds with any one unit lost, over all its ranges. */
    CAPACITY;

    /** The name in plans, for example {@code outside-check}. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
  }
}

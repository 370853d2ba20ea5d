package stillwatch.rules.plan;

import java.time.Duration;

/**
 * How far the clocks of the sources are believed.
 *
 * @param ahead how far ahead of its reception an entry may be stamped; what is stamped further
 *     ahead is ignored
 */
public record TimePlan(Duration ahead) {
  /** What holds where the plan says nothing (common practice, no source). */
  public static final TimePlan USUAL = new TimePlan(Duration.ofMinutes(2));
}

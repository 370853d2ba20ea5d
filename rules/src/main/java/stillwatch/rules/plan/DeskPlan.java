package stillwatch.rules.plan;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * How alarms are handled.
 *
 * @param shelveAtMost how long an alarm may be put aside at once
 * @param reAlarm how long after it was acknowledged an alarm of high priority that still lasts asks
 *     again; null for never
 * @param latching rules whose alarms must be reset after their condition is over
 * @param suppressed by rule, the phases in which it has nothing to say
 * @param chatterTimes raised so often
 * @param chatterWithin within this time, an alarm point chatters
 */
public record DeskPlan(
    Duration shelveAtMost,
    @Nullable Duration reAlarm,
    Set<String> latching,
    Map<String, List<String>> suppressed,
    int chatterTimes,
    Duration chatterWithin) {
  /**
   * What holds where the plan says nothing: shelving for half a day at most, an invented figure;
   * chatter as in common practice (three times in a minute; from memory).
   */
  public static final DeskPlan USUAL =
      new DeskPlan(Duration.ofHours(12), null, Set.of(), Map.of(), 3, Duration.ofMinutes(1));

  /** Whether the plan suppresses a rule in a phase. */
  public boolean suppresses(String rule, String phase) {
    return suppressed.getOrDefault(rule, List.of()).contains(phase);
  }
}

package stillwatch.rules.engine;

import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.book.Priority;

/** What a rule says of one subject at one moment. Valid only during the call that hands it over. */
public interface Verdict {
  /** Whom it is about: a gauge, a pair, a group of twins or the well. */
  String subject();

  /** Log time, ms since 1970 UTC. */
  long nowMs();

  /**
   * The time delays are counted in: the source's time where the rule gives it as {@code timeMs},
   * otherwise log time.
   */
  long timeMs();

  /** Whether the condition holds. */
  boolean beyond();

  /** Whether the condition is over, past the deadband. */
  boolean normal();

  /**
   * When the condition began, where the rule knows better than the moment it was first seen;
   * otherwise -1.
   */
  long onsetMs();

  /**
   * How large the condition is, where the rule says so as {@code size}, in any unit; else NaN. What
   * stands is raised again when it has outgrown itself.
   */
  double size();

  /** The priority the row names; null where it leaves that to the catalogue. */
  @Nullable String priority();

  /** The priority the row names, or the catalogue's where it names none. */
  default Priority priorityOr(Priority catalogued) {
    String named = priority();
    return named == null ? catalogued : Priority.of(named);
  }

  /** The rule's other columns that are texts. */
  Map<String, String> texts();

  /** The rule's other columns that are numbers; unknown ones are left out. */
  Map<String, Double> numbers();
}

package stillwatch.rules.book;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What a rule's alarms mean for everybody else. It travels with each finding of the rule, so that
 * nobody needs to read anything into a rule's id. Immutable.
 *
 * @param about what the rule is about
 * @param sense the sense it lets speak for a leak: pressure, sound, heat, seafloor or a name of its
 *     own; null when it is no evidence of one
 * @param excludes whether the gauge it is about is left out of what reassures while it stands
 * @param blinds whether the watch sees less than all that happens to the well while it stands
 * @param explains ids of the rules whose less urgent alarms it explains while it stands
 */
public record RuleMeaning(
    RuleEntry.About about,
    @Nullable String sense,
    boolean excludes,
    boolean blinds,
    List<String> explains) {

  /** One of its own, with its list kept from changing. */
  public RuleMeaning {
    explains = List.copyOf(explains);
  }

  /** Of a rule of which no more is known than what it is about. */
  public static RuleMeaning on(RuleEntry.About about) {
    return new RuleMeaning(about, null, false, false, List.of());
  }
}

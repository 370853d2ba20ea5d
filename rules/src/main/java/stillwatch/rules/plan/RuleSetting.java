package stillwatch.rules.plan;

import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.book.Parameter;
import stillwatch.rules.book.RuleEntry;

/**
 * What the plan says of one rule.
 *
 * @param parameters values that differ from the catalogue's, in base units
 * @param off why the rule is switched off; null when it is on
 * @param advice what the plan says to do; null where the catalogue's response holds
 */
public record RuleSetting(
    Map<String, Double> parameters, @Nullable String off, @Nullable String advice) {
  /** What holds where the plan says nothing. */
  public static final RuleSetting AS_CATALOGUED = new RuleSetting(Map.of(), null, null);

  /** Every limit in force, by name, in base units: the plan's, or the catalogue's. */
  public Map<String, Double> limits(RuleEntry rule) {
    Map<String, Double> limits = new LinkedHashMap<>();
    for (Parameter p : rule.parameters()) {
      limits.put(p.name(), parameters.getOrDefault(p.name(), p.standard()));
    }
    return limits;
  }
}

package stillwatch.rules.plan;

import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * What the plan says of one rule.
 *
 * @param parameters values that differ from the catalogue's, in base units
 * @param off why the rule is switched off; null when it is on
 * @param advice what the plan says to do; null where the catalogue's response holds
 */
public record RuleSetting(
    Map<String, Double> parameters, @Nullable String off, @Nullable String advice) {}

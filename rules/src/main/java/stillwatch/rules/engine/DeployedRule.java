package stillwatch.rules.engine;

import java.util.Map;
import java.util.function.Consumer;

/**
 * A rule at work for one well.
 *
 * @param rule the rule
 * @param parameters the limits in force, in base units, by the catalogue's names
 * @param standing of whom the sink wants to hear though the condition does not hold
 * @param sink told each verdict on the sending thread
 */
public record DeployedRule(
    Rule rule, Map<String, Double> parameters, VerdictNeeds standing, Consumer<Verdict> sink) {
  /** One with its limits kept from changing. */
  public DeployedRule {
    parameters = Map.copyOf(parameters);
  }
}

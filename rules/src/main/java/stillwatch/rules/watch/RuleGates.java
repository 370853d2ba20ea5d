package stillwatch.rules.watch;

import java.util.LinkedHashMap;
import java.util.Map;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.engine.Rule;
import stillwatch.rules.finding.Hashes;
import stillwatch.rules.plan.RuleSetting;

/** One rule as this well's plan has it: limits, advice, revision, and a gate for each subject. */
final class RuleGates {
  final RuleEntry entry;
  final Map<String, Double> parameters;
  final String advice;
  final String revision;
  private final Map<String, Gate> gates = new LinkedHashMap<>();

  RuleGates(Rule rule, RuleSetting setting) {
    entry = rule.entry();
    parameters = setting.limits(entry);
    advice = setting.advice() == null ? entry.response() : setting.advice();
    revision = Hashes.hex(8, rule.text(), entry.toString(), parameters.toString());
  }

  Gate gate(String subject) {
    Gate known = gates.get(subject);
    if (known == null) {
      known = new Gate(delayMs("hold"), delayMs("release"), entry.priority());
      gates.put(subject, known);
    }
    return known;
  }

  private long delayMs(String name) {
    return Math.round(parameters.getOrDefault(name, 0.0) * 1000);
  }
}

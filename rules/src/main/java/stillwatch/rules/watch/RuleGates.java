package stillwatch.rules.watch;

import java.util.LinkedHashMap;
import java.util.Map;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.engine.Rule;
import stillwatch.rules.engine.Verdict;
import stillwatch.rules.engine.VerdictNeeds;
import stillwatch.rules.finding.Hashes;
import stillwatch.rules.plan.RuleSetting;

/**
 * One rule as this well's plan has it: limits, advice, revision, and a gate for each subject. The
 * revision covers what decides; another wording is no other alarm.
 */
final class RuleGates implements VerdictNeeds {
  final RuleEntry entry;
  final Map<String, Double> parameters;
  final String advice;
  final String revision;
  private final Map<String, Gate> gates = new LinkedHashMap<>();
  private int standing;

  RuleGates(Rule rule, RuleSetting setting) {
    entry = rule.entry();
    parameters = setting.limits(entry);
    advice = setting.advice() == null ? entry.response() : setting.advice();
    revision =
        Hashes.hex(
            8,
            rule.text(),
            entry.meaning().toString(),
            entry.priority().wire(),
            parameters.toString());
  }

  Gate gate(String subject) {
    Gate known = gates.get(subject);
    if (known == null) {
      known = new Gate(delayMs("hold"), delayMs("release"), entry.priority());
      gates.put(subject, known);
    }
    return known;
  }

  /** Puts a verdict to the gate of its subject. */
  Gate.Change judge(Verdict verdict) {
    Gate gate = gate(verdict.subject());
    int before = gate.idle() ? 0 : 1;
    Gate.Change change = gate.judge(verdict);
    standing += (gate.idle() ? 0 : 1) - before;
    return change;
  }

  @Override
  public boolean of(String subject) {
    return standing > 0 && !gate(subject).idle();
  }

  private long delayMs(String name) {
    return Math.round(parameters.getOrDefault(name, 0.0) * 1000);
  }
}

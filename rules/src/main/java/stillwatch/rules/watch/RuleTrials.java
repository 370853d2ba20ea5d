package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.engine.DeployedRule;
import stillwatch.rules.engine.Rule;
import stillwatch.rules.engine.Verdict;
import stillwatch.rules.engine.WellEngine;
import stillwatch.rules.indicator.GaugesIndicator;
import stillwatch.rules.indicator.WellIndicator;
import stillwatch.rules.plan.RuleSetting;

/**
 * One rule with many sets of limits over the same indicators: the same compiled rule and the same
 * delays as in a watch, without the findings. Whom the well rules trust is as it was when the
 * indicators were captured.
 */
public final class RuleTrials {
  /** One alert a setting would have raised. */
  public record Raise(String subject, long onsetMs, long raisedMs) {}

  private RuleTrials() {}

  /**
   * Runs them.
   *
   * @param settings limits by name, in base units; those left out are the catalogue's
   * @return for each setting what it raised above information priority, in order
   */
  public static List<List<Raise>> run(
      Rule rule, List<Map<String, Double>> settings, CapturedRun captured) {
    List<List<Raise>> all = new ArrayList<>();
    List<DeployedRule> deployed = new ArrayList<>();
    for (Map<String, Double> setting : settings) {
      RuleGates gates = new RuleGates(rule, new RuleSetting(setting, null, null));
      List<Raise> raises = new ArrayList<>();
      all.add(raises);
      deployed.add(new DeployedRule(rule, gates.parameters, gates, v -> judge(gates, v, raises)));
    }
    try (WellEngine engine = new WellEngine(deployed)) {
      if (rule.ofGauges()) {
        for (GaugesIndicator indicator : captured.gauges()) {
          engine.send(indicator);
        }
      } else {
        for (WellIndicator indicator : captured.wells()) {
          engine.send(indicator);
        }
      }
    }
    return all;
  }

  private static void judge(RuleGates rule, Verdict verdict, List<Raise> raises) {
    Gate.Change change = rule.judge(verdict);
    boolean raised = change == Gate.Change.RAISED || change == Gate.Change.ESCALATED;
    if (raised && counts(rule.entry, verdict.priorityOr(rule.entry.priority()))) {
      raises.add(
          new Raise(verdict.subject(), rule.gate(verdict.subject()).onsetMs(), verdict.nowMs()));
    }
  }

  /**
   * Whether what a rule raises at a priority is scored: hints are not, unless it gives only hints.
   */
  public static boolean counts(RuleEntry rule, Priority raisedAt) {
    return raisedAt != Priority.INFORMATION || rule.priority() == Priority.INFORMATION;
  }
}

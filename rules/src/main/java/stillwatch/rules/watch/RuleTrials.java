package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
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
      Rule rule, List<Map<String, Double>> settings, Captured captured) {
    List<List<Raise>> all = new ArrayList<>();
    try (WellEngine engine = new WellEngine()) {
      for (Map<String, Double> setting : settings) {
        RuleGates gates = new RuleGates(rule, new RuleSetting(setting, null, null));
        List<Raise> raises = new ArrayList<>();
        all.add(raises);
        engine.deploy(rule, gates.parameters, verdict -> judge(gates, verdict, raises));
      }
      if (rule.text().contains("GaugesIndicator")) {
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
    Gate gate = rule.gate(verdict.subject());
    boolean beyond = verdict.beyond();
    long onsetMs = verdict.onsetMs() >= 0 ? verdict.onsetMs() : verdict.timeMs();
    switch (gate.judge(verdict.timeMs(), beyond, verdict.normal(), onsetMs)) {
      case RAISED -> {
        Priority priority = FindingMaker.priority(rule, verdict);
        gate.raised(priority);
        note(rule.entry, verdict, gate.onsetMs(), priority, raises);
      }
      case RETURNED -> gate.returned();
      case NONE -> {
        Priority raised = gate.priority();
        if (raised != null && beyond) {
          Priority now = FindingMaker.priority(rule, verdict);
          if (now.compareTo(raised) > 0) {
            gate.raised(now);
            note(rule.entry, verdict, verdict.timeMs(), now, raises);
          }
        }
      }
    }
  }

  private static void note(
      RuleEntry rule, Verdict verdict, long onsetMs, Priority priority, List<Raise> raises) {
    if (priority.compareTo(Priority.INFORMATION) > 0 || rule.priority() == Priority.INFORMATION) {
      raises.add(new Raise(verdict.subject(), onsetMs, verdict.nowMs()));
    }
  }
}

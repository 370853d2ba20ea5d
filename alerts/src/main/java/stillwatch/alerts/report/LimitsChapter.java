package stillwatch.alerts.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.Pressures;
import stillwatch.rules.plan.RuleSetting;

/** The limits in force: bands and times of the plan, and the limits of the rules that raised. */
final class LimitsChapter {
  private final ReportParts parts;
  private final Plan plan;
  private final Pressures unit;

  LimitsChapter(ReportParts parts) {
    this.parts = parts;
    plan = parts.plan();
    unit = Pressures.of(plan);
  }

  void write(Html html) {
    html.heading("Limits in force");
    Bands b = plan.bands();
    List<List<String>> bands =
        List.of(
            List.of("Intact from", pressure(b.intactLowKPa())),
            List.of("Leak up to", pressure(b.leakHighKPa())),
            List.of("Ceiling", pressure(b.ceilingKPa())),
            List.of(
                "Hold point every", Words.span((double) plan.test().holdPointEvery().toSeconds())),
            List.of("Length of the test", Words.span((double) plan.test().length().toSeconds())));
    html.table(List.of("Plan", "Value"), bands, "");
    if (!b.byTime().isEmpty()) {
      html.dim("Intact and leak edges are those of a built-up well; before, they follow the plan.");
    }
    Map<String, String> limits = new TreeMap<>();
    for (DeskAlarm a : parts.alarms()) {
      limits.put(a.finding().rule(), words(a.finding().limits()));
    }
    List<List<String>> rows = new ArrayList<>();
    limits.forEach((rule, words) -> rows.add(List.of(rule, words, differs(rule))));
    html.table(
        List.of("Rule that raised", "Limits", "Changed by the plan"), rows, "No rule raised.");
    html.dim(
        "Changed by the plan besides: "
            + others(limits)
            + ". All other rules: as in the rule book of this version (docs/rules.md).");
  }

  private String pressure(double kPa) {
    return unit.plain(kPa) + " " + unit.sign();
  }

  private static String words(Map<String, String> limits) {
    return String.join(
        ", ", limits.entrySet().stream().map(e -> e.getKey() + " " + e.getValue()).toList());
  }

  private String differs(String rule) {
    RuleSetting setting = plan.rules().get(rule);
    return setting == null ? "" : String.join(", ", new TreeMap<>(setting.parameters()).keySet());
  }

  private String others(Map<String, String> raised) {
    List<String> others = new ArrayList<>();
    new TreeMap<>(plan.rules())
        .forEach(
            (rule, setting) -> {
              if (!raised.containsKey(rule) && !setting.parameters().isEmpty()) {
                others.add(rule + " (" + differs(rule) + ")");
              }
            });
    return others.isEmpty() ? "nothing" : String.join(", ", others);
  }
}

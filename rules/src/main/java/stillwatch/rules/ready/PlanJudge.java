package stillwatch.rules.ready;

import java.util.List;
import java.util.Locale;
import stillwatch.rules.capacity.Loss;
import stillwatch.rules.plan.Condition;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;

/** Judges what the plan alone shows. */
final class PlanJudge {
  private final Plan plan;

  PlanJudge(Plan plan) {
    this.plan = plan;
  }

  Standing twins(Condition condition) {
    List<String> ids =
        plan.gauges().stream().filter(GaugePlan::ofShutIn).map(GaugePlan::id).toList();
    return ids.size() > 1
        ? new Standing(
            condition, true, "the shut-in pressure is measured by " + String.join(", ", ids))
        : new Standing(
            condition, false, "only " + ids.get(0) + " has the role shut-in in the plan");
  }

  Standing routes(Condition condition) {
    int routes = plan.routes().size();
    return new Standing(
        condition,
        routes > 0,
        routes > 0
            ? "notification routes in the plan: " + routes
            : "the plan has no notification route; add one under 'routes'");
  }

  Standing outsideCheck(Condition condition) {
    boolean told = plan.heartbeat() != null;
    return new Standing(
        condition,
        told,
        told
            ? "the plan gives a sign of life to a check outside"
            : "the plan gives no sign of life to anybody; add 'heartbeat' under 'routes'");
  }

  Standing facts(Condition condition) {
    boolean enough = plan.facts() != null;
    return new Standing(
        condition,
        enough,
        enough
            ? "the facts suffice to expect a pressure"
            : "the facts lack " + String.join(", ", plan.missingFacts()));
  }

  Standing capacity(Condition condition) {
    if (plan.reopening().isEmpty()) {
      return new Standing(
          condition, false, "the plan has no 'reopening' to work a capacity out of");
    }
    List<String> falling =
        Loss.upToOneUnit(plan.reopening().get()).stream()
            .filter(l -> l.holds().value() < 1)
            .map(
                l ->
                    String.format(
                        Locale.ROOT,
                        "%s it holds in %.1f %% of the draws of the ranges",
                        l.lost().isEmpty() ? "with all units" : "without " + l.lost().get(0),
                        100 * l.holds().value()))
            .toList();
    return new Standing(
        condition,
        falling.isEmpty(),
        falling.isEmpty()
            ? "the capacity holds with any one unit lost, in every draw of the ranges"
            : "capacity: " + String.join("; ", falling));
  }
}

package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import stillwatch.ingest.unit.Dimension;

/** Makes what a plan says of how the test goes. */
final class TestBinder {
  private static final String AT = "/test";

  private final YamlTree tree;
  private final PlanQuantities quantities;

  TestBinder(YamlTree tree) {
    this.tree = tree;
    quantities = new PlanQuantities(tree);
  }

  /**
   * What the plan says.
   *
   * @param closing the closing list; the closure steps are its steps where it has any
   */
  TestPlan bind(List<ClosingStep> closing) {
    JsonNode t = tree.root().path("test");
    List<String> phases = new ArrayList<>();
    t.path("phases").forEach(p -> phases.add(p.asText()));
    return new TestPlan(
        List.copyOf(phases),
        closing.isEmpty()
            ? closureSteps(t.path("closure-steps"))
            : closing.stream().map(s -> new TestPlan.ClosureStep(s.name(), s.leaves())).toList(),
        longerThanNothing(t, AT, "hold-point-every", 6 * 3600, "hold points must be apart"),
        longerThanNothing(t, AT, "length", 48 * 3600, "the test must last longer than zero"),
        passes(t.path("passes")));
  }

  private List<TestPlan.ClosureStep> closureSteps(JsonNode list) {
    List<TestPlan.ClosureStep> steps = new ArrayList<>();
    double before = 1;
    for (int i = 0; i < list.size(); i++) {
      JsonNode s = list.path(i); // the schema has told already what is no list
      String at = AT + "/closure-steps/" + i;
      double even = 1 - (i + 1.0) / list.size();
      double leaves = quantities.of(s, at, "leaves", Dimension.NUMBER, even);
      if (leaves < 0 || leaves > before) {
        tree.fault(
            at + "/leaves", "a closure step leaves a share between 0 and what flowed before");
      }
      before = leaves;
      steps.add(
          new TestPlan.ClosureStep(s.isTextual() ? s.asText() : s.path("step").asText(), leaves));
    }
    return List.copyOf(steps);
  }

  private List<TestPlan.Pass> passes(JsonNode list) {
    List<TestPlan.Pass> passes = new ArrayList<>();
    for (int i = 0; i < list.size(); i++) {
      String at = AT + "/passes/" + i;
      Duration every =
          longerThanNothing(
              list.path(i), at, "every", 6 * 3600, "a pass must be due less often than always");
      passes.add(new TestPlan.Pass(list.path(i).path("means").asText(), every));
    }
    return List.copyOf(passes);
  }

  private Duration longerThanNothing(
      JsonNode node, String at, String key, double usualS, String fault) {
    double s = quantities.of(node, at, key, Dimension.DURATION, usualS);
    if (s <= 0) {
      tree.fault(at + "/" + key, fault);
    }
    return Duration.ofMillis(Math.round(s * 1000));
  }
}

package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import stillwatch.ingest.unit.Dimension;

/** Makes what a plan says of the steps of the closing. */
final class ClosingBinder {
  private static final String AT = "/closing";

  private final YamlTree tree;
  private final PlanQuantities quantities;
  private final Set<String> names = new HashSet<>();

  ClosingBinder(YamlTree tree) {
    this.tree = tree;
    quantities = new PlanQuantities(tree);
  }

  List<ClosingStep> bind() {
    JsonNode list = tree.root().path("closing");
    if (!list.isEmpty() && tree.root().path("test").has("closure-steps")) {
      tree.faultAtKey(
          "/test/closure-steps", "the steps stand under 'closing' already; say them there only");
    }
    List<ClosingStep> steps = new ArrayList<>();
    double before = 1;
    for (int i = 0; i < list.size(); i++) {
      ClosingStep step = step(list.path(i), AT + "/" + i, before);
      before = step.leaves();
      steps.add(step);
    }
    return List.copyOf(steps);
  }

  private ClosingStep step(JsonNode s, String at, double before) {
    String name = s.path("step").asText();
    if (!names.add(ClosingStep.key(name))) {
      tree.fault(at + "/step", "step '" + name + "' stands twice; give one another name");
    }
    double leaves = quantities.of(s, at, "leaves", Dimension.NUMBER, before);
    if (leaves < 0 || leaves > before) {
      tree.fault(at + "/leaves", "a step leaves a share between 0 and what flowed before");
    }
    double holdS = quantities.of(s, at, "hold", Dimension.DURATION, 0);
    if (holdS < 0) {
      tree.fault(at + "/hold", "a hold cannot be shorter than zero");
    }
    return new ClosingStep(
        name, s.path("outlet").asText(), leaves, seconds(holdS), response(s, at));
  }

  private Optional<ClosingStep.Response> response(JsonNode s, String stepAt) {
    JsonNode r = s.path("response");
    if (!r.isObject()) {
      return Optional.empty();
    }
    String at = stepAt + "/response";
    Dimension change = Dimension.PRESSURE;
    double low = quantities.of(r, at, "low", change, Double.NEGATIVE_INFINITY);
    double high = quantities.of(r, at, "high", change, Double.POSITIVE_INFINITY);
    if (low >= high) {
      tree.fault(at, "low must be below high");
    }
    double withinS = quantities.of(r, at, "within", Dimension.DURATION, 60);
    if (withinS <= 0) {
      tree.fault(
          at + "/within", "the pressure is read some time after the step; say more than zero");
    }
    return Optional.of(new ClosingStep.Response(low, high, seconds(withinS)));
  }

  private static Duration seconds(double s) {
    return Duration.ofMillis(Math.round(s * 1000));
  }
}

package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import stillwatch.ingest.unit.Dimension;

/** Makes what a plan says of the steps of the closing, or of the opening. */
final class ClosingBinder {
  private static final String CLOSING = "/closing";

  private final YamlTree tree;
  private final PlanQuantities quantities;
  private final Set<String> names = new HashSet<>();

  /** Under this pointer stands the list. */
  private final String list;

  private ClosingBinder(YamlTree tree, String list) {
    this.tree = tree;
    this.list = list;
    quantities = new PlanQuantities(tree);
  }

  /** The steps of the closing. */
  static List<ClosingStep> closing(YamlTree tree) {
    if (!tree.root().path("closing").isEmpty() && tree.root().path("test").has("closure-steps")) {
      tree.faultAtKey(
          "/test/closure-steps", "the steps stand under 'closing' already; say them there only");
    }
    return new ClosingBinder(tree, CLOSING).bind(1);
  }

  /** The steps of the opening. */
  static List<ClosingStep> opening(YamlTree tree) {
    return new ClosingBinder(tree, "/opening").bind(0);
  }

  private List<ClosingStep> bind(double first) {
    JsonNode nodes = tree.root().at(list);
    List<ClosingStep> steps = new ArrayList<>();
    double before = first;
    for (int i = 0; i < nodes.size(); i++) {
      ClosingStep step = step(nodes.path(i), list + "/" + i, before);
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
    double flows = flows(s, at, before);
    double holdS = quantities.of(s, at, "hold", Dimension.DURATION, 0);
    if (holdS < 0) {
      tree.fault(at + "/hold", "a hold cannot be shorter than zero");
    }
    return new ClosingStep(name, s.path("outlet").asText(), flows, seconds(holdS), response(s, at));
  }

  /** The share that flows after a step. */
  private double flows(JsonNode s, String at, double before) {
    if (list.equals(CLOSING)) {
      double leaves = quantities.of(s, at, "leaves", Dimension.NUMBER, before);
      if (leaves < 0 || leaves > before) {
        tree.fault(at + "/leaves", "a step leaves a share between 0 and what flowed before");
      }
      return leaves;
    }
    double flows = quantities.of(s, at, "flows", Dimension.NUMBER, before);
    if (flows <= 0 || flows < before || flows > 1) {
      tree.fault(
          at + "/flows",
          "after an opening step a share of the first flow above 0 % flows, not less than before and 100 % at most");
    }
    return flows;
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
    if (!list.equals(CLOSING) && low >= 0) {
      tree.fault(
          at + "/low",
          "an opening lowers the pressure: low is the largest fall, write it negative");
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

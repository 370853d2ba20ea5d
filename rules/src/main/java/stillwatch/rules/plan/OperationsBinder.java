package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.util.Optional;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.unit.Dimension;

/** Makes what a plan says of the effects of operations. */
final class OperationsBinder {
  private final YamlTree tree;
  private final PlanQuantities quantities;

  OperationsBinder(YamlTree tree) {
    this.tree = tree;
    quantities = new PlanQuantities(tree);
  }

  OperationLimits bind() {
    OperationLimits usual = OperationLimits.USUAL;
    return new OperationLimits(
        limit(Operation.What.CLOSURE_STEP, usual.closureStep()),
        limit(Operation.What.OPENING_STEP, usual.openingStep()),
        limit(Operation.What.VALVE, usual.valve()),
        limit(Operation.What.LINE_UP, usual.lineUp()));
  }

  private OperationLimit limit(Operation.What what, OperationLimit usual) {
    JsonNode node = tree.root().path("operations").path(what.wire());
    String at = "/operations/" + what.wire();
    double usualReturnsS = usual.returns().map(d -> d.toMillis() / 1000.0).orElse(0.0);
    double returnsS = atLeast(0, node, at, "returns", Dimension.DURATION, usualReturnsS);
    return new OperationLimit(
        atLeast(0, node, at, "fall", Dimension.PRESSURE, usual.fallKPa()),
        atLeast(0, node, at, "overshoot", Dimension.NUMBER, usual.overshoot()),
        atLeast(0, node, at, "rise", Dimension.PRESSURE, usual.riseKPa()),
        seconds(
            atLeast(1, node, at, "within", Dimension.DURATION, usual.within().toMillis() / 1000.0)),
        returnsS > 0 ? Optional.of(seconds(returnsS)) : Optional.empty());
  }

  private double atLeast(
      double least, JsonNode node, String at, String key, Dimension dimension, double usual) {
    double value = quantities.of(node, at, key, dimension, usual);
    if (value < least) {
      tree.fault(
          at + "/" + key,
          least == 0
              ? "is how far or how long at most, so it cannot be below zero"
              : "must be 1 s or longer: an operation needs time to show");
      return usual;
    }
    return value;
  }

  private static Duration seconds(double s) {
    return Duration.ofMillis(Math.round(s * 1000));
  }
}

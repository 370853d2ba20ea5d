package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import stillwatch.ingest.unit.Dimension;

/** Makes what a plan says of presence near the well and of the tide. */
final class SurroundingsBinder {
  private final YamlTree tree;
  private final PlanQuantities quantities;

  SurroundingsBinder(YamlTree tree) {
    this.tree = tree;
    quantities = new PlanQuantities(tree);
  }

  Surroundings bind() {
    JsonNode presence = tree.root().path("presence");
    double usualS = Surroundings.USUAL.longestStay().toSeconds();
    double stayS = quantities.of(presence, "/presence", "longest-stay", Dimension.DURATION, usualS);
    if (stayS <= 0) {
      tree.fault("/presence/longest-stay", "a stay must be longer than zero");
    }
    JsonNode tide = tree.root().path("tide");
    double tideKPa =
        quantities.of(tide, "/tide", "amplitude", Dimension.PRESSURE, Surroundings.USUAL.tideKPa());
    if (tideKPa < 0) {
      tree.fault(
          "/tide/amplitude", "an amplitude cannot be below nothing; write 0 kPa for no tide");
    }
    return new Surroundings(Duration.ofMillis(Math.round(stayS * 1000)), tideKPa);
  }
}

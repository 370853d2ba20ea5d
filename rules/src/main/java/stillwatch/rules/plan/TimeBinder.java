package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import stillwatch.ingest.unit.Dimension;

/** Makes what a plan's {@code time} says of the clocks. */
final class TimeBinder {
  private static final double LEAST_S = 1;
  private static final double MOST_S = 3600;

  private final YamlTree tree;

  TimeBinder(YamlTree tree) {
    this.tree = tree;
  }

  TimePlan bind() {
    JsonNode time = tree.root().path("time");
    double usualS = TimePlan.USUAL.ahead().toSeconds();
    double aheadS = new PlanQuantities(tree).of(time, "/time", "ahead", Dimension.DURATION, usualS);
    if (aheadS < LEAST_S || aheadS > MOST_S) {
      tree.fault(
          "/time/ahead",
          "must lie between 1 s and 1 h: shorter refuses what clocks that agree send, longer lets a wrong clock in");
    }
    return new TimePlan(Duration.ofMillis(Math.round(aheadS * 1000)));
  }
}

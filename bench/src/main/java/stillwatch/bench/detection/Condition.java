package stillwatch.bench.detection;

import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.drill.Scenario;

/** What is the matter with one gauge of the pair, or with the link. */
enum Condition {
  HEALTHY("healthy pair"),
  ALONE("one healthy gauge alone"),
  FROZEN("one frozen"),
  DRIFT_UP("one drifts up"),
  DRIFT_DOWN("one drifts down"),
  DEAD("one dead at 0"),
  SILENT("one silent"),
  SPIKES("one spikes"),
  BURSTS("link bursts"),
  CLOCK("one clock 20 s late");

  final String name;

  Condition(String name) {
    this.name = name;
  }

  /** The fault of PT-2 from an hour on. */
  @Nullable List<Scenario.Fault> faults(double from, double to) {
    return switch (this) {
      case FROZEN -> List.of(new Scenario.Fault("frozen", from, to, null));
      case DRIFT_UP -> List.of(new Scenario.Fault("drift", from, to, 40.0));
      case DRIFT_DOWN -> List.of(new Scenario.Fault("drift", from, to, -40.0));
      case DEAD -> List.of(new Scenario.Fault("dead", from, to, 0.0));
      case SILENT -> List.of(new Scenario.Fault("silent", from, to, null));
      case SPIKES -> List.of(new Scenario.Fault("spikes", from, to, 500.0));
      default -> null;
    };
  }
}

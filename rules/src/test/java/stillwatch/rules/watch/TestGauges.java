package stillwatch.rules.watch;

import java.time.Duration;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.plan.GaugePlan;

/** Gauges of the shut-in pressure for tests: one reading a second, 20 kPa of accuracy. */
final class TestGauges {
  private TestGauges() {}

  /** One that is watched from this moment on, without a tide known beforehand. */
  static WatchedGauge of(String id, String unit, @Nullable String twin, long startMs) {
    return new WatchedGauge(
        new GaugePlan(
            id,
            Kind.PRESSURE,
            "cap",
            unit,
            Duration.ofSeconds(1),
            5_000,
            103_500,
            20,
            0.01,
            twin,
            GaugePlan.Role.SHUT_IN,
            Double.NaN),
        "cap",
        0,
        startMs);
  }
}

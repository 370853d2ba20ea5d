package stillwatch.alerts.room;

import java.util.List;
import java.util.Optional;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.rules.plan.GaugePlan;

/** Which gauges can be trusted, and which of them speaks for the shut-in pressure. */
final class SpeakingGauge {
  private SpeakingGauge() {}

  /** Whether no lasting alarm excludes this gauge. */
  static boolean trusted(GaugePlan g, List<DeskAlarm> open) {
    return open.stream().noneMatch(a -> a.standing().lasts() && a.finding().excludes(g.id()));
  }

  /** The first trusted shut-in gauge of the plan that has a value; empty when there is none. */
  static Optional<GaugePlan> of(RoomParts parts, List<DeskAlarm> open) {
    return parts.plan().gauges().stream()
        .filter(GaugePlan::ofShutIn)
        .filter(g -> trusted(g, open))
        .filter(
            g ->
                parts
                    .picture()
                    .lastWord(g.id())
                    .filter(w -> Double.isFinite(w.value()) && w.quality() != Quality.BAD)
                    .isPresent())
        .findFirst();
  }
}

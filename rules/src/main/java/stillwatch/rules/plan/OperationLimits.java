package stillwatch.rules.plan;

import java.time.Duration;
import java.util.Optional;
import stillwatch.ingest.telemetry.Operation;

/**
 * What each kind of operation may do to the shut-in pressure.
 *
 * @param closureStep raises it; what was gained may settle back a little
 * @param openingStep lowers it
 * @param valve may move it a little, and it comes back
 * @param lineUp may move it a little, and it comes back
 */
public record OperationLimits(
    OperationLimit closureStep,
    OperationLimit openingStep,
    OperationLimit valve,
    OperationLimit lineUp) {
  private static final double ANY = Double.POSITIVE_INFINITY;

  private static final OperationLimit SMALL =
      new OperationLimit(50, ANY, 50, Duration.ofMinutes(2), Optional.of(Duration.ofMinutes(10)));

  /** What holds where the plan says nothing (common practice, no source). */
  public static final OperationLimits USUAL =
      new OperationLimits(
          new OperationLimit(ANY, 0.1, ANY, Duration.ofMinutes(5), Optional.empty()),
          new OperationLimit(ANY, ANY, 0, Duration.ofMinutes(30), Optional.empty()),
          SMALL,
          SMALL);

  /** What this kind may do; empty for what moves nothing of the well. */
  public Optional<OperationLimit> of(Operation.What what) {
    return switch (what) {
      case CLOSURE_STEP -> Optional.of(closureStep);
      case OPENING_STEP -> Optional.of(openingStep);
      case VALVE -> Optional.of(valve);
      case LINE_UP -> Optional.of(lineUp);
      default -> Optional.empty();
    };
  }
}

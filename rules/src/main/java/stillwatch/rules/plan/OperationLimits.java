package stillwatch.rules.plan;

import java.time.Duration;
import java.util.EnumMap;
import java.util.Map;
import stillwatch.ingest.telemetry.Operation;

/**
 * What each kind of operation may do to the shut-in pressure. Nothing else is put down to it.
 *
 * @param effects what may follow, by kind of operation that moves the well
 * @param settles how long the transient of a closure step lasts
 */
public record OperationLimits(Map<Operation.What, Effect> effects, Duration settles) {

  /** What holds where the plan says nothing (common practice, no source). */
  public static final OperationLimits USUAL = usual();

  /**
   * What may follow an operation.
   *
   * @param fallKPa the largest fall it explains, kPa
   * @param overshoot the share of the rise it made that may be lost again, 0 to 1
   * @param within how long after it the fall must begin
   * @param returns how long after it the pressure must be back
   */
  public record Effect(double fallKPa, double overshoot, Duration within, Duration returns) {}

  private static OperationLimits usual() {
    Map<Operation.What, Effect> effects = new EnumMap<>(Operation.What.class);
    Duration soon = Duration.ofMinutes(2);
    Duration back = Duration.ofMinutes(10);
    effects.put(Operation.What.CLOSURE_STEP, new Effect(0, 0.1, Duration.ofMinutes(5), back));
    effects.put(
        Operation.What.OPENING_STEP,
        new Effect(Double.POSITIVE_INFINITY, 0, Duration.ofMinutes(30), back));
    effects.put(Operation.What.VALVE, new Effect(50, 0, soon, back));
    effects.put(Operation.What.LINE_UP, new Effect(50, 0, soon, back));
    return new OperationLimits(effects, Duration.ofMinutes(6));
  }

  /** What may follow an operation of this kind. */
  public Effect of(Operation.What what) {
    Effect effect = effects.get(what);
    return effect == null ? new Effect(0, 0, Duration.ZERO, Duration.ZERO) : effect;
  }
}

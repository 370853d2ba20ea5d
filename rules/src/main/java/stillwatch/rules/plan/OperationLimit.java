package stillwatch.rules.plan;

import java.time.Duration;
import java.util.Optional;

/**
 * What one kind of operation may do to the shut-in pressure. What goes beyond is not put down to
 * it.
 *
 * @param fallKPa the largest fall it may explain, kPa; infinite for any
 * @param overshoot the largest share of the rise it made that may be lost again while it settles;
 *     infinite where the fall is not counted by its rise
 * @param riseKPa the largest rise it may explain, kPa; infinite for any
 * @param within how long after it
 * @param returns within what time the pressure must be back; empty where it need not come back
 */
public record OperationLimit(
    double fallKPa, double overshoot, double riseKPa, Duration within, Optional<Duration> returns) {

  /**
   * The largest fall it may explain, kPa.
   *
   * @param madeKPa the rise it made before, kPa
   */
  public double fallKPa(double madeKPa) {
    double share = Double.isInfinite(overshoot) ? overshoot : overshoot * Math.max(0, madeKPa);
    return Math.min(fallKPa, share);
  }
}

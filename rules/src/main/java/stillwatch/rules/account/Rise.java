package stillwatch.rules.account;

/**
 * How a level was rising before a change, so that its mere return to where it stood is not taken
 * for a recovery: after a step a shut-in pressure rises with the logarithm of the time since (C. S.
 * Matthews and D. G. Russell, Pressure Buildup and Flow Tests in Wells, 1967, chapter 3, from
 * memory). Immutable.
 *
 * @param perLog rise each time that the time since the step grows by the factor e, kPa; 0 for none
 * @param stepMs when the step was, ms since 1970 UTC
 * @param onsetMs when the change began; later than the step
 */
public record Rise(double perLog, long stepMs, long onsetMs) {
  /** A level that did not rise. */
  public static final Rise NONE = new Rise(0, 0, 1);

  /** How much higher the level was to be by then than at the onset, kPa. */
  public double by(long nowMs) {
    return nowMs <= onsetMs
        ? 0
        : perLog * StrictMath.log((double) (nowMs - stepMs) / (onsetMs - stepMs));
  }
}

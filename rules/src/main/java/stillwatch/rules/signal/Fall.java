package stillwatch.rules.signal;

/**
 * What a gauge lost lately of a level that it had held.
 *
 * @param lost zero or more, in the gauge's unit; NaN until a level could be held
 * @param usual the gauge's own usual change over that span, a standard deviation; half its accuracy
 *     until known
 * @param held the level that was held; NaN until there was one
 * @param heldToMs the last time it was held, source's time
 * @param quick the most that was lost within 80 s of that span, or over two levels more where these
 *     lie further apart
 * @param jumped the largest part of it that came from one reading to the next
 * @param spanS over how long it was looked for, seconds
 */
public record Fall(
    double lost,
    double usual,
    double held,
    long heldToMs,
    double quick,
    double jumped,
    double spanS) {
  /** Whether a part of it came faster than fluid moves, for a gauge that reads so often, s. */
  public boolean impossible(double periodS) {
    return jumped > Quarantine.FASTEST_PER_S * periodS;
  }
}

package stillwatch.rules.signal;

/**
 * Whether a gauge reads what can be.
 *
 * @param outside a reading since the last indicator was outside its range
 * @param outsideS how long its readings have been outside, seconds; 0 when the last was inside
 * @param outsideSinceMs since when, source's time
 * @param lastOutside the last reading outside its range
 * @param waiting how many readings wait in quarantine
 * @param discarded how many times readings were thrown away from there
 * @param jumps how many jumps faster than fluid can move were among them, or were undone by
 *     another, in the last hours
 * @param leap how far it is from where it was before such a jump that stayed, in the base unit with
 *     sign; 0 when there was none, or it is back
 */
public record Range(
    boolean outside,
    double outsideS,
    long outsideSinceMs,
    double lastOutside,
    int waiting,
    double discarded,
    double jumps,
    double leap) {
  private static final int HISTORY = 2;

  /** Whether it has lately gone to and fro as no well can: then what it reads is its own doing. */
  public boolean wild() {
    return jumps >= HISTORY;
  }
}

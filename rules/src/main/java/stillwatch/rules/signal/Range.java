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
 * @param jumps how many jumps faster than fluid can move were among them, in the last hours
 */
public record Range(
    boolean outside,
    double outsideS,
    long outsideSinceMs,
    double lastOutside,
    int waiting,
    double discarded,
    double jumps) {}

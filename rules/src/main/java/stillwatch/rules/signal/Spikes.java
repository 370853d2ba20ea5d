package stillwatch.rules.signal;

/**
 * How many spikes a gauge has shown in about the last ten minutes: readings that stand away from
 * the median of their five neighbours, counted and forgotten exponentially. Times must increase.
 * Not thread-safe.
 */
final class Spikes {
  private static final double FORGET_MS = 600_000;

  private double count;
  private long lastMs;

  /** Notes a spike. */
  void add(long atMs) {
    count = at(atMs) + 1;
    lastMs = atMs;
  }

  /** The count as of a time. */
  double at(long atMs) {
    return count == 0 ? 0 : count * StrictMath.exp(-Math.max(0, atMs - lastMs) / FORGET_MS);
  }
}

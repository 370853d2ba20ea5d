package stillwatch.rules.closing;

import java.util.Arrays;
import stillwatch.rules.plan.GaugePlan;

/**
 * What a gauge read of late by its source's clock: the last reading of each ten seconds, or of each
 * of its periods where those are longer, 180 of them. Constant memory. Not thread-safe.
 */
final class LevelHistory {
  private static final int SLOTS = 180;
  private static final long SLOT_MS = 10_000;

  /** A level is the median of what was read in so many slots up to its moment. */
  private static final int OF_SLOTS = 6;

  private final GaugePlan gauge;
  private final long slotMs;
  private final long[] atMs = new long[SLOTS];
  private final double[] values = new double[SLOTS];
  private long newestMs = Long.MIN_VALUE;

  LevelHistory(GaugePlan gauge) {
    this.gauge = gauge;
    slotMs = Math.max(SLOT_MS, gauge.period().toMillis());
    Arrays.fill(atMs, Long.MIN_VALUE);
  }

  GaugePlan gauge() {
    return gauge;
  }

  /**
   * Takes a good reading; one outside what the gauge can measure is left out. Says whether it was
   * taken.
   */
  boolean add(long readMs, double value) {
    if (!(value >= gauge.low() && value <= gauge.high())) {
      return false;
    }
    newestMs = Math.max(newestMs, readMs);
    int slot = (int) Math.floorMod(Math.floorDiv(readMs, slotMs), (long) SLOTS);
    if (readMs >= atMs[slot]) {
      atMs[slot] = readMs;
      values[slot] = value;
    }
    return true;
  }

  /** The stamp of the newest reading; {@link Long#MIN_VALUE} before the first. */
  long newestMs() {
    return newestMs;
  }

  /** The level at a moment of the last half hour, kPa; NaN when nothing was read just before it. */
  double at(long ms) {
    double[] read = new double[OF_SLOTS + 1];
    int n = 0;
    for (int back = 0; back <= OF_SLOTS; back++) {
      int slot = (int) Math.floorMod(Math.floorDiv(ms - back * slotMs, slotMs), (long) SLOTS);
      if (atMs[slot] <= ms && atMs[slot] > ms - OF_SLOTS * slotMs) {
        read[n++] = values[slot];
      }
    }
    Arrays.sort(read, 0, n);
    return n == 0 ? Double.NaN : (read[(n - 1) / 2] + read[n / 2]) / 2;
  }
}

package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * How far the level is under its highest within a window of {@value #BLOCKS} blocks of time counted
 * from 1970 UTC. With a block length {@code w} and the newest reading in block {@code k}, it covers
 * exactly {@code [(k−19)·w; (k+1)·w)}. Times must increase. Not thread-safe.
 */
final class BlockFall {
  static final int BLOCKS = 20;

  private final long blockMs;
  private final double[] high = new double[BLOCKS];
  private long block = Long.MIN_VALUE;
  private long blockStartMs = Long.MAX_VALUE;
  private int slot;
  private double last = Double.NaN;

  /** A fall within that window, ms, a multiple of {@value #BLOCKS}. */
  BlockFall(long windowMs) {
    blockMs = windowMs / BLOCKS;
    Arrays.fill(high, Double.NEGATIVE_INFINITY);
  }

  /** Takes a finite level stamped later than the one before. */
  void accept(long atMs, double level) {
    long into = atMs - blockStartMs;
    if (into >= blockMs && into < 2 * blockMs) { // the next block, without a division
      blockStartMs += blockMs;
      block++;
      slot = slot + 1 == BLOCKS ? 0 : slot + 1;
      high[slot] = level;
    } else {
      if (into < 0 || into >= blockMs) {
        moveTo(Math.floorDiv(atMs, blockMs));
      }
      high[slot] = Math.max(high[slot], level);
    }
    last = level;
  }

  private void moveTo(long b) {
    if (block == Long.MIN_VALUE || b - block >= BLOCKS) {
      Arrays.fill(high, Double.NEGATIVE_INFINITY);
    } else {
      for (long k = block + 1; k <= b; k++) {
        high[(int) Math.floorMod(k, (long) BLOCKS)] = Double.NEGATIVE_INFINITY;
      }
    }
    block = b;
    blockStartMs = b * blockMs;
    slot = (int) Math.floorMod(b, (long) BLOCKS);
  }

  /** The fall, zero or more; NaN before the first reading. */
  double fall() {
    double highest = Double.NEGATIVE_INFINITY;
    for (double h : high) {
      highest = Math.max(highest, h);
    }
    return highest - last;
  }
}

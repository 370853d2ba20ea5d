package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * How much was lost of a level that was held. Held is the highest level that a run of blocks never
 * went under; lost is what even the highest level of the newest blocks is short of it. So a swell,
 * an earthquake or a spike, which go both ways faster than a run lasts, show nothing, and a fall
 * shows as soon as it has lasted a run of the newest blocks: an opening and a closing in the sense
 * of grey-scale morphology (J. Serra, Image Analysis and Mathematical Morphology, 1982, from
 * memory), on one axis.
 *
 * <p>It looks back over {@value #BLOCKS} blocks of time counted from 1970 UTC. Times must increase.
 * Not thread-safe.
 */
final class HeldLoss {
  static final int BLOCKS = 16;

  /** A sudden fall takes no longer, ms. */
  private static final long QUICK_MS = 80_000;

  private final long blockMs;
  private final int heldBlocks;
  private final int lostBlocks;
  private final double[] low = new double[BLOCKS];
  private final double[] high = new double[BLOCKS];
  private final long[] startMs = new long[BLOCKS];
  private long block = Long.MIN_VALUE;
  private int count;
  private double held = Double.NaN;
  private long heldToMs;

  /**
   * A loss by blocks of this length.
   *
   * @param blockMs length of a block, ms
   * @param heldBlocks how many blocks in a row must hold a level
   * @param lostBlocks how many of the newest must be short of it, the one that has begun among them
   */
  HeldLoss(long blockMs, int heldBlocks, int lostBlocks) {
    this.blockMs = blockMs;
    this.heldBlocks = heldBlocks;
    this.lostBlocks = lostBlocks;
  }

  /** Takes a finite level stamped later than the one before. */
  void accept(long atMs, double level) {
    long now = Math.floorDiv(atMs, blockMs);
    if (now == block) {
      low[count - 1] = Math.min(low[count - 1], level);
      high[count - 1] = Math.max(high[count - 1], level);
      return;
    }
    if (block != Long.MIN_VALUE && now - block > BLOCKS) {
      count = 0;
    }
    if (count == BLOCKS) {
      System.arraycopy(low, 1, low, 0, BLOCKS - 1);
      System.arraycopy(high, 1, high, 0, BLOCKS - 1);
      System.arraycopy(startMs, 1, startMs, 0, BLOCKS - 1);
      count--;
    }
    low[count] = level;
    high[count] = level;
    startMs[count] = atMs;
    count++;
    block = now;
  }

  /** Forgets everything. */
  void restart() {
    count = 0;
    block = Long.MIN_VALUE;
    Arrays.fill(low, Double.NaN);
  }

  /** What is lost of the highest level held, zero or more; NaN until a level could be held. */
  double lost() {
    if (count < heldBlocks + lostBlocks) {
      return Double.NaN;
    }
    double lostLevel = Double.NEGATIVE_INFINITY;
    for (int i = count - lostBlocks; i < count; i++) {
      lostLevel = Math.max(lostLevel, high[i]);
    }
    held = Double.NEGATIVE_INFINITY;
    for (int from = 0; from + heldBlocks <= count - lostBlocks; from++) {
      double run = Double.POSITIVE_INFINITY;
      for (int i = from; i < from + heldBlocks; i++) {
        run = Math.min(run, low[i]);
      }
      if (run >= held) {
        held = run;
        heldToMs = startMs[from + heldBlocks - 1];
      }
    }
    return Math.max(0, held - lostLevel);
  }

  /**
   * The most that was lost within {@value #QUICK_MS} ms, or over two blocks where these are longer;
   * zero or more. A slow wander loses much over {@value #BLOCKS} blocks, and little of it at once.
   */
  double quick() {
    double most = 0;
    for (int i = 0; i < count; i++) {
      for (int j = i + 1; j < count && (j <= i + 2 || startMs[j] - startMs[i] <= QUICK_MS); j++) {
        most = Math.max(most, low[i] - high[j]);
      }
    }
    return most;
  }

  /**
   * What was lost of which level.
   *
   * @param usual the gauge's own usual change over the time that this looks back
   * @param jumped the largest fall from one reading to the next
   */
  Fall fall(double usual, double jumped) {
    double lost = lost();
    double spanS = BLOCKS * blockMs / 1000.0;
    return new Fall(lost, usual, held, heldToMs, lost > 0 ? quick() : 0, jumped, spanS);
  }

  /** The highest less the lowest level of the blocks it looks back over; 0 before the first. */
  double range() {
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < count; i++) {
      least = Math.min(least, low[i]);
      most = Math.max(most, high[i]);
    }
    return count == 0 ? 0 : most - least;
  }
}

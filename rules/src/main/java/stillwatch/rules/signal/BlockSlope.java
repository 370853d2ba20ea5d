package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * Least-squares slope over a horizon made of {@value #BLOCKS} blocks of time counted from 1970 UTC.
 * With a block length {@code w} and the newest reading in block {@code k}, it covers exactly the
 * readings stamped in {@code [(k−19)·w; (k+1)·w)}. Sums are kept per block, relative to the block's
 * start and its first value, so that a level of 46 000 with a noise of 0.01 keeps its digits; they
 * are moved to a common origin when asked. Times must increase. Not thread-safe.
 */
final class BlockSlope {
  static final int BLOCKS = 20;
  private static final double MS_PER_HOUR = 3_600_000;

  private final long blockMs;
  private final long[] n = new long[BLOCKS];
  private final double[] reference = new double[BLOCKS];
  private final long[] firstMs = new long[BLOCKS];
  private final double[] t = new double[BLOCKS];
  private final double[] y = new double[BLOCKS];
  private final double[] tt = new double[BLOCKS];
  private final double[] ty = new double[BLOCKS];
  private long block = Long.MIN_VALUE;
  private long blockStartMs = Long.MAX_VALUE;
  private int slot;
  private long lastMs;

  /** A slope over that horizon, ms, a multiple of {@value #BLOCKS}. */
  BlockSlope(long horizonMs) {
    blockMs = horizonMs / BLOCKS;
  }

  /** Takes a finite reading stamped later than the one before. */
  void accept(long atMs, double value) {
    if (atMs < blockStartMs || atMs >= blockStartMs + blockMs) { // no division on most readings
      moveTo(Math.floorDiv(atMs, blockMs));
    }
    int i = slot;
    if (n[i] == 0) {
      reference[i] = value;
      firstMs[i] = atMs;
    }
    double x = atMs - blockStartMs;
    double d = value - reference[i];
    n[i]++;
    t[i] += x;
    y[i] += d;
    tt[i] += x * x;
    ty[i] += x * d;
    lastMs = atMs;
  }

  private void moveTo(long b) {
    if (block == Long.MIN_VALUE || b - block >= BLOCKS) {
      Arrays.fill(n, 0);
      clearSums(0, BLOCKS);
    } else {
      for (long k = block + 1; k <= b; k++) {
        int i = (int) Math.floorMod(k, (long) BLOCKS);
        n[i] = 0;
        clearSums(i, i + 1);
      }
    }
    block = b;
    blockStartMs = b * blockMs;
    slot = (int) Math.floorMod(b, (long) BLOCKS);
  }

  private void clearSums(int from, int to) {
    Arrays.fill(t, from, to, 0);
    Arrays.fill(y, from, to, 0);
    Arrays.fill(tt, from, to, 0);
    Arrays.fill(ty, from, to, 0);
  }

  /** The slope per hour; NaN until the readings covered span at least half the horizon. */
  double perHour() {
    if (block == Long.MIN_VALUE) {
      return Double.NaN;
    }
    double origin = Double.NaN;
    long spanFrom = Long.MAX_VALUE;
    double count = 0;
    double st = 0;
    double sy = 0;
    for (int i = 0; i < BLOCKS; i++) {
      if (n[i] > 0) {
        origin = Double.isNaN(origin) ? reference[i] : origin;
        spanFrom = Math.min(spanFrom, firstMs[i]);
        count += n[i];
        st += t[i] + n[i] * shiftMs(i);
        sy += y[i] + n[i] * (reference[i] - origin);
      }
    }
    if (count < 3 || lastMs - spanFrom < blockMs * BLOCKS / 2) {
      return Double.NaN;
    }
    double meanT = st / count;
    double meanY = sy / count;
    double stt = 0;
    double sty = 0;
    for (int i = 0; i < BLOCKS; i++) {
      if (n[i] > 0) {
        double dt = shiftMs(i) - meanT;
        double dy = reference[i] - origin - meanY;
        stt += tt[i] + 2 * dt * t[i] + n[i] * dt * dt;
        sty += ty[i] + dt * y[i] + dy * t[i] + n[i] * dt * dy;
      }
    }
    return stt <= 0 ? Double.NaN : sty / stt * MS_PER_HOUR;
  }

  /** Start of the block in slot i, ms from the start of the newest block. */
  private double shiftMs(int i) {
    long behind = i <= slot ? slot - i : slot - i + BLOCKS;
    return -(double) behind * blockMs;
  }
}

package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * How far a sound level stands over its running background: the tenth percentile of its minute
 * means over the last six hours. A minute enters at most {@value #CLIP} dB over the background, so
 * that a sound that stays does not soon become the background itself. Times must increase. Not
 * thread-safe.
 */
final class Background {
  private static final int MINUTES = 360;
  private static final int LEAST = 20;
  private static final double CLIP = 3;

  private final double[] ring = new double[MINUTES];
  private final double[] sorted = new double[MINUTES];
  private int count;
  private int next;
  private long minute = Long.MIN_VALUE;
  private double sum;
  private int inMinute;
  private double background = Double.NaN;
  private double lastMinute = Double.NaN;

  /** Takes a finite level, dB, stamped later than the one before. */
  void accept(long atMs, double level) {
    long now = Math.floorDiv(atMs, 60_000);
    if (now != minute) {
      if (inMinute > 0) {
        keep(sum / inMinute);
      }
      minute = now;
      sum = 0;
      inMinute = 0;
    }
    sum += level;
    inMinute++;
  }

  private void keep(double mean) {
    lastMinute = mean;
    ring[next] = Double.isNaN(background) ? mean : Math.min(mean, background + CLIP);
    next = (next + 1) % MINUTES;
    count = Math.min(MINUTES, count + 1);
    if (count >= LEAST) {
      System.arraycopy(ring, 0, sorted, 0, count);
      Arrays.sort(sorted, 0, count);
      background = sorted[count / 10];
    }
  }

  /** The background, dB; NaN until {@value #LEAST} minutes are known. */
  double background() {
    return background;
  }

  /** How far the last whole minute's mean stands over the background, dB; NaN until known. */
  double rise() {
    return lastMinute - background;
  }
}

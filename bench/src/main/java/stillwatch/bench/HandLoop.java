package stillwatch.bench;

import java.util.Arrays;

/**
 * What somebody would write by hand who knows the number of gauges and wants no engine: the same
 * estimates as a track (median of five, slopes over 10 min, 1 h and 3 h, falls over 1 and 10 min,
 * noise, repeats) on flat arrays, and the eight conditions compared every ten seconds.
 */
final class HandLoop {
  private static final int BLOCKS = 20;
  private static final long[] SLOPE_MS = {30_000, 180_000, 540_000};
  private static final long[] FALL_MS = {3_000, 30_000};

  private final int gauges;
  private final double[][] recent;
  private final double[] last;
  private final double[] level;
  private final double[] meanAbsolute;
  private final long[] since;
  private final double[] habit;
  private final double[][][] sums; // gauge, horizon, block * 5: n, t, y, tt, ty
  private final double[][] reference;
  private final double[][][] high; // gauge, window, block
  private int count;
  long beyond;

  HandLoop(int gauges) {
    this.gauges = gauges;
    recent = new double[gauges][5];
    last = new double[gauges];
    level = new double[gauges];
    meanAbsolute = new double[gauges];
    since = new long[gauges];
    habit = new double[gauges];
    sums = new double[gauges][SLOPE_MS.length][BLOCKS * 5];
    reference = new double[gauges][SLOPE_MS.length * BLOCKS];
    high = new double[gauges][FALL_MS.length][BLOCKS];
  }

  void frame(long atMs, double[] values) {
    for (int g = 0; g < gauges; g++) {
      reading(g, atMs, values[g]);
    }
    if (++count % 10 == 0) {
      for (int g = 0; g < gauges; g++) {
        judge(g, atMs);
      }
    }
  }

  private void reading(int g, long atMs, double value) {
    double d = Math.abs(value - last[g]);
    meanAbsolute[g] += (d - meanAbsolute[g]) / 200;
    if (value != last[g]) {
      long run = atMs - since[g];
      habit[g] = run >= habit[g] ? run : habit[g] + (run - habit[g]) / 512;
      since[g] = atMs;
    }
    last[g] = value;
    recent[g][count % 5] = value;
    level[g] = median(recent[g]);
    for (int h = 0; h < SLOPE_MS.length; h++) {
      long block = atMs / SLOPE_MS[h];
      int slot = (int) (block % BLOCKS);
      double[] s = sums[g][h];
      int i = slot * 5;
      double x = atMs - block * SLOPE_MS[h];
      if (x == 0 || s[i] == 0) {
        Arrays.fill(s, i, i + 5, 0);
        reference[g][h * BLOCKS + slot] = level[g];
      }
      double y = level[g] - reference[g][h * BLOCKS + slot];
      s[i]++;
      s[i + 1] += x;
      s[i + 2] += y;
      s[i + 3] += x * x;
      s[i + 4] += x * y;
    }
    for (int w = 0; w < FALL_MS.length; w++) {
      int slot = (int) (atMs / FALL_MS[w] % BLOCKS);
      double[] top = high[g][w];
      top[slot] = atMs % FALL_MS[w] == 0 ? level[g] : Math.max(top[slot], level[g]);
    }
  }

  private static double median(double[] five) {
    double a = Math.min(five[0], five[1]);
    double b = Math.max(five[0], five[1]);
    double c = Math.min(five[2], five[3]);
    double d = Math.max(five[2], five[3]);
    double low = Math.max(a, c);
    double up = Math.min(b, d);
    return Math.max(Math.min(low, up), Math.min(Math.max(low, up), five[4]));
  }

  private double slope(int g, int h, long atMs) {
    double[] s = sums[g][h];
    long newest = atMs / SLOPE_MS[h];
    double n = 0;
    double t = 0;
    double y = 0;
    double tt = 0;
    double ty = 0;
    for (int slot = 0; slot < BLOCKS; slot++) {
      int i = slot * 5;
      double shift = -Math.floorMod(newest - slot, (long) BLOCKS) * (double) SLOPE_MS[h];
      double base = reference[g][h * BLOCKS + slot] - level[g];
      n += s[i];
      t += s[i + 1] + s[i] * shift;
      y += s[i + 2] + s[i] * base;
      tt += s[i + 3] + 2 * shift * s[i + 1] + s[i] * shift * shift;
      ty += s[i + 4] + shift * s[i + 2] + base * (s[i + 1] + s[i] * shift);
    }
    return (ty - t * y / n) / (tt - t * t / n) * 3_600_000;
  }

  private void judge(int g, long atMs) {
    double top = Double.NEGATIVE_INFINITY;
    for (double h : high[g][0]) {
      top = Math.max(top, h);
    }
    double top10m = Double.NEGATIVE_INFINITY;
    for (double h : high[g][1]) {
      top10m = Math.max(top10m, h);
    }
    boolean flat = Math.abs(slope(g, 0, atMs)) < 2;
    double rising = slope(g, 1, atMs) + slope(g, 2, atMs);
    beyond += level[g] < 46_000 && flat ? 1 : 0;
    beyond += top - level[g] > 30 || top10m - level[g] > 300 ? 1 : 0;
    beyond += level[g] > 52_000 || rising > 1e9 ? 1 : 0;
    beyond += atMs - since[g] > Math.max(120_000, 20 * habit[g]) ? 1 : 0;
    beyond += g % 2 == 1 && Math.abs(level[g] - level[g - 1]) > 80 + 6 * meanAbsolute[g] ? 1 : 0;
  }
}

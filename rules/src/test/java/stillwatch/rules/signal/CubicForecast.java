package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * What a smooth course, a tide above all, makes a pressure be next: the cubic through four means
 * one spacing apart, carried on (H. O. Mofjeld, Tsunami Detection Algorithm, NOAA Pacific Marine
 * Environmental Laboratory; there ten-minute means an hour apart, forecast 5.25 minutes on, 30 mm
 * of water as limit). A cubic is foretold exactly, but for its bend within a mean. White noise of
 * the means is amplified 1.21 times at that distance.
 *
 * <p>Means end with the newest whole tenth of their length, counted from 1970 UTC; their nodes are
 * the mean times of their readings. Times must increase. Not thread-safe.
 */
public final class CubicForecast {
  private static final int NODES = 4;
  private static final int PARTS = 10;

  private final long partMs;
  private final int apart;
  private final int size;
  private final double[] sums;
  private final double[] times;
  private final int[] counts;
  private final double[] nodes = new double[NODES];
  private final double[] means = new double[NODES];
  private long part = Long.MIN_VALUE;
  private boolean known;
  private double reference;
  private long originMs;
  private double departure = Double.NaN;

  /**
   * A forecast.
   *
   * @param meanMs length of a mean, ms, a multiple of ten
   * @param apartMs from mean to mean, ms, a multiple of a tenth of the length
   */
  public CubicForecast(long meanMs, long apartMs) {
    partMs = meanMs / PARTS;
    if (partMs <= 0 || meanMs % PARTS != 0 || apartMs < meanMs || apartMs % partMs != 0) {
      throw new IllegalArgumentException(
          "means of "
              + meanMs
              + " ms "
              + apartMs
              + " ms apart; the spacing must be no less than the length, and a multiple of its"
              + " tenth in whole ms");
    }
    apart = (int) (apartMs / partMs);
    size = (NODES - 1) * apart + PARTS + 1;
    sums = new double[size];
    times = new double[size];
    counts = new int[size];
  }

  /** Takes a finite value stamped later than the one before. */
  public void accept(long atMs, double value) {
    long now = Math.floorDiv(atMs, partMs);
    if (part == Long.MIN_VALUE) {
      reference = value;
      originMs = atMs;
      part = now;
    } else if (now != part) {
      moveTo(now);
    }
    departure = value - forecast(atMs);
    int i = slot(now);
    sums[i] += value - reference;
    times[i] += atMs - originMs;
    counts[i]++;
  }

  private int slot(long number) {
    return (int) Math.floorMod(number, (long) size);
  }

  private void moveTo(long now) {
    long from = Math.max(part + 1, now - size + 1);
    for (long k = from; k <= now; k++) {
      int i = slot(k);
      sums[i] = 0;
      times[i] = 0;
      counts[i] = 0;
    }
    part = now;
    known = true;
    for (int node = 0; node < NODES; node++) {
      gather(node);
    }
  }

  /** Takes the mean that ended {@code node} spacings ago; NaN where it has no reading. */
  private void gather(int node) {
    double sum = 0;
    double time = 0;
    int n = 0;
    for (int k = 1; k <= PARTS; k++) {
      int i = slot(part - (long) node * apart - k);
      sum += sums[i];
      time += times[i];
      n += counts[i];
    }
    means[node] = sum / n;
    nodes[node] = time / n;
  }

  /**
   * The forecast for a time after the newest mean; NaN until three spacings are known and while one
   * of the four means has no reading.
   */
  public double forecast(long atMs) {
    if (!known) {
      return Double.NaN;
    }
    double sum = 0;
    for (int node = 0; node < NODES; node++) {
      sum += weight(node, (double) (atMs - originMs), nodes) * means[node];
    }
    return reference + sum;
  }

  /** Lagrange's weight of a node for the cubic through all four, at a time. */
  static double weight(int node, double at, double[] nodes) {
    double weight = 1;
    for (int other = 0; other < NODES; other++) {
      if (other != node) {
        weight *= (at - nodes[other]) / (nodes[node] - nodes[other]);
      }
    }
    return weight;
  }

  /** The last value less its forecast; NaN where there was none. */
  public double departure() {
    return departure;
  }

  /** What was learned no longer holds. */
  public void restart() {
    Arrays.fill(sums, 0);
    Arrays.fill(times, 0);
    Arrays.fill(counts, 0);
    part = Long.MIN_VALUE;
    known = false;
    departure = Double.NaN;
  }
}

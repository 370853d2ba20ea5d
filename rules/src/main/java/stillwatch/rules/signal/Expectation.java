package stillwatch.rules.signal;

/**
 * What a gauge should read if the well goes on as it did, and how it departs from that. The
 * expectation is a least-squares parabola against the logarithm of the time since the well was last
 * touched. An intact well builds up on a straight line of it (D. R. Horner, Proc. 3rd World
 * Petroleum Congress, 1951); the bend takes up the steps before the last, and is shrunk towards
 * none by its own uncertainty (positive-part rule of W. James and C. Stein, Proc. 4th Berkeley
 * Symp. 1, 1961, 361-379), so that noise does not bend it. It is fitted to blocks of the last hour
 * without the newest two, so that a fall does not teach itself. Means are compared with it; their
 * departures, in deviations that hold both their own usual size and the variance of the forecast,
 * feed a cumulative sum on either side. While one of them is well above nothing the fit stands
 * still, for at most half an hour. Times must increase. Not thread-safe.
 *
 * <p>Against a slow random walk the departures are not independent, so the run lengths published
 * for cumulative sums hold for white noise only. What a gauge that wanders usually does is
 * therefore learned: the largest sums of its excursions to either side, forgotten slowly.
 */
final class Expectation {
  private static final int BLOCKS = 20;
  private static final int NEWEST_LEFT_OUT = 2;
  private static final int LEAST_BLOCKS = 5;
  private static final long LEAD_MS = 3_600_000;

  /**
   * Only the newer three quarters of the time since the well was touched count: before, the well
   * fills.
   */
  private static final double REACH = Math.log(4);

  private static final double HOLD_ABOVE = 6;

  /** No mean counts for more than so many deviations. */
  static final double CLIP = 6;

  private static final long MEMORY_MS = 3_600_000;
  private static final long WARM_MS = 900_000;
  private static final int LEAST_WARM = 15;
  private static final double FROM_MEAN_ABSOLUTE = Math.sqrt(Math.PI / 2);

  /** A sum that ends its excursion below this teaches nothing: white noise reaches it. */
  private static final double EXCURSION = 8;

  private static final double FORGET = 0.95;

  /** What a gauge of which nothing is known may do, forgotten by the hour. */
  private static final double UNKNOWN = 150;

  private static final double MS_PER_HOUR = 3_600_000;

  private final double leastSigma;
  private final long meanMs;
  private final long blockMs;
  private final long longestHoldMs;
  private final int memory;
  private final int warm;
  private final double[] blockX = new double[BLOCKS];
  private final double[] blockY = new double[BLOCKS];
  private final Cusum down = new Cusum(1);
  private final Cusum up = new Cusum(1);
  private int blocks;
  private long block = Long.MIN_VALUE;
  private double sumX;
  private double sumY;
  private int inBlock;
  private long touchedMs = Long.MIN_VALUE;
  private double slope;
  private double bend;
  private double bendX;
  private double spreadX;
  private double meanX;
  private double meanY = Double.NaN;
  private double perBlock;
  private double perSlope;
  private double perBend;
  private long heldSinceMs = Long.MIN_VALUE;
  private double meanAbsolute;
  private int departures;
  private double departure = Double.NaN;
  private double lastMean = Double.NaN;
  private long firstMs = Long.MIN_VALUE;
  private long lastMs;
  private double peak;
  private double usualPeak;

  /**
   * An expectation of a gauge that reads at this pace.
   *
   * @param leastSigma departures are never taken for smaller than this, in the gauge's unit
   */
  Expectation(double leastSigma, Pace pace) {
    this.leastSigma = leastSigma;
    meanMs = pace.meanMs();
    blockMs = pace.expectationBlockMs();
    longestHoldMs = 10 * blockMs;
    memory = (int) Math.max(60, MEMORY_MS / meanMs);
    warm = (int) Math.max(LEAST_WARM, WARM_MS / meanMs);
  }

  /** The well was touched: what was learned no longer holds. */
  void touched(long atMs) {
    touchedMs = atMs;
    blocks = 0;
    inBlock = 0;
    sumX = 0;
    sumY = 0;
    block = Long.MIN_VALUE;
    meanY = Double.NaN;
    departure = Double.NaN;
    heldSinceMs = Long.MIN_VALUE;
    peak = 0;
    down.reset();
    up.reset();
  }

  /** Takes the mean level over the span of one mean from a time later than the time before. */
  void accept(long fromMs, double mean) {
    if (touchedMs == Long.MIN_VALUE) {
      touchedMs = fromMs - LEAD_MS; // nobody logged when; over an hour any origin long ago will do
    }
    double x = StrictMath.log((double) Math.max(meanMs, fromMs + meanMs / 2 - touchedMs));
    lastMean = mean;
    lastMs = fromMs;
    firstMs = firstMs == Long.MIN_VALUE ? fromMs : firstMs;
    judge(fromMs, x, mean);
    long now = Math.floorDiv(fromMs, blockMs);
    if (now != block) {
      if (inBlock > 0) {
        keep(fromMs);
      }
      block = now;
    }
    sumX += x;
    sumY += mean;
    inBlock++;
  }

  private void judge(long fromMs, double x, double mean) {
    if (Double.isNaN(meanY)) {
      return;
    }
    departure = mean - at(x);
    departures++;
    double size = Math.abs(departure);
    if (departures > warm) {
      size = Math.min(size, 3 * Math.max(meanAbsolute, leastSigma));
    }
    meanAbsolute += (size - meanAbsolute) / Math.min(departures, memory);
    if (departures > warm) {
      double sigma = sigma();
      double off = departure / Math.sqrt(sigma * sigma + errorSquared(x));
      double z = Math.max(-CLIP, Math.min(CLIP, off));
      double larger = Math.max(down.accept(fromMs, -z), up.accept(fromMs, z));
      peak = Math.max(peak, larger);
      if (larger == 0) {
        excursionEnded();
      }
    }
    if (Math.max(down.value(), up.value()) > HOLD_ABOVE) {
      heldSinceMs = heldSinceMs == Long.MIN_VALUE ? fromMs : heldSinceMs;
    } else {
      heldSinceMs = Long.MIN_VALUE;
    }
  }

  /** Learns how far the gauge usually strays, at most three times as far as it was known to. */
  private void excursionEnded() {
    if (peak > EXCURSION) {
      usualPeak =
          Math.max(FORGET * usualPeak, Math.min(peak, 3 * Math.max(usualPeak, 2 * EXCURSION)));
    }
    peak = 0;
  }

  /** Ends a block, and fits again unless a departure is being watched. */
  private void keep(long nowMs) {
    if (blocks == BLOCKS) {
      System.arraycopy(blockX, 1, blockX, 0, BLOCKS - 1);
      System.arraycopy(blockY, 1, blockY, 0, BLOCKS - 1);
      blocks--;
    }
    blockX[blocks] = sumX / inBlock;
    blockY[blocks] = sumY / inBlock;
    blocks++;
    sumX = 0;
    sumY = 0;
    inBlock = 0;
    boolean held = heldSinceMs != Long.MIN_VALUE && nowMs - heldSinceMs < longestHoldMs;
    if (!held && heldSinceMs != Long.MIN_VALUE) {
      excursionEnded();
      down.reset();
      up.reset();
    }
    int from = 0;
    while (from < blocks && blockX[from] < blockX[blocks - 1] - REACH) {
      from++;
    }
    if (!held && blocks - NEWEST_LEFT_OUT - from >= LEAST_BLOCKS) {
      fit(from, blocks - NEWEST_LEFT_OUT);
    }
  }

  /**
   * Least squares on 1, u and u² − c·u − d, made orthogonal over the blocks; u = x less its mean.
   */
  private void fit(int from, int to) {
    int n = to - from;
    double mx = 0;
    double my = 0;
    for (int i = from; i < to; i++) {
      mx += blockX[i] / n;
      my += blockY[i] / n;
    }
    double uu = 0;
    double uuu = 0;
    double uy = 0;
    for (int i = from; i < to; i++) {
      double u = blockX[i] - mx;
      uu += u * u;
      uuu += u * u * u;
      uy += u * (blockY[i] - my);
    }
    double c = uu > 0 ? uuu / uu : 0;
    double d = uu / n;
    double ww = 0;
    double wy = 0;
    for (int i = from; i < to; i++) {
      double u = blockX[i] - mx;
      double w = u * u - c * u - d;
      ww += w * w;
      wy += w * (blockY[i] - my);
    }
    meanX = mx;
    meanY = my;
    slope = uu > 0 ? uy / uu : 0;
    bend = ww > 0 ? wy / ww : 0;
    bendX = c;
    spreadX = d;
    double rest = 0;
    for (int i = from; i < to; i++) {
      double r = blockY[i] - at(blockX[i]);
      rest += r * r;
    }
    double variance = rest / (n - 3);
    double sure = ww > 0 && bend != 0 ? variance / (ww * bend * bend) : 1;
    bend *= Math.max(0, 1 - sure);
    perBlock = variance / n;
    perSlope = uu > 0 ? variance / uu : 0;
    perBend = ww > 0 ? variance / ww : 0;
  }

  /** Variance of what is expected at x, by the scatter of the blocks about the fit. */
  private double errorSquared(double x) {
    double u = x - meanX;
    double w = u * u - bendX * u - spreadX;
    return perBlock + perSlope * u * u + perBend * w * w;
  }

  private double at(double x) {
    double u = x - meanX;
    return meanY + slope * u + bend * (u * u - bendX * u - spreadX);
  }

  /**
   * The largest sum that the gauge's own wander usually makes, or may while little is known of it.
   */
  double usualPeak() {
    double known = (lastMs - firstMs) / MS_PER_HOUR;
    return Math.max(usualPeak, UNKNOWN * StrictMath.exp(-known));
  }

  /** The last mean less what was expected; NaN until something is. */
  double departure() {
    return departure;
  }

  /** Its usual size as a standard deviation; NaN until known. */
  double sigma() {
    return departures <= warm
        ? Double.NaN
        : Math.max(leastSigma, meanAbsolute * FROM_MEAN_ABSOLUTE);
  }

  /** The cumulative sum of falling short, in deviations. */
  double shortSum() {
    return down.value();
  }

  /** When the present falling short began, source's time. */
  long shortSinceMs() {
    return down.sinceMs();
  }

  /** How steep the expectation is against the logarithm of time, at its newest. */
  private double tangent(double x) {
    return slope + bend * (2 * (x - meanX) - bendX);
  }

  /** How far the last mean is under the highest block, zero or more; NaN before there is one. */
  double below() {
    double highest = Double.NaN;
    for (int i = 0; i < blocks; i++) {
      highest = Double.isNaN(highest) ? blockY[i] : Math.max(highest, blockY[i]);
    }
    return Math.max(0, highest - lastMean);
  }

  /** When the level would reach another if it goes on. */
  Reach reach(double level, long nowMs) {
    if (Double.isNaN(meanY) || nowMs <= touchedMs) {
      return new Reach(Double.NaN, Double.NaN, Double.NaN);
    }
    double x = StrictMath.log((double) (nowMs - touchedMs));
    double now = tangent(x);
    return new Reach(
        until(level, nowMs, x, now),
        until(level, nowMs, x, Math.max(now, slope)),
        until(level, nowMs, x, Math.min(now, slope)));
  }

  private double until(double level, long nowMs, double x, double steep) {
    if (steep <= 0) {
      return Double.POSITIVE_INFINITY;
    }
    double further = Math.max(0, level - at(x)) / steep;
    return (nowMs - touchedMs) * (StrictMath.exp(further) - 1) / 1000;
  }
}

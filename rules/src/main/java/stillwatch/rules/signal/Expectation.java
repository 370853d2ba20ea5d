package stillwatch.rules.signal;

/**
 * What a gauge should read if the well goes on as it did, and how it departs from that. The
 * expectation is a least-squares parabola against the logarithm of the time since the well was last
 * touched. An intact well builds up on a straight line of it (D. R. Horner, Proc. 3rd World
 * Petroleum Congress, 1951); the bend takes up the steps before the last. It is fitted to
 * three-minute means of the last hour without the newest two, so that a fall does not teach itself.
 * Ten-second means are compared with it; their departures, in deviations of their own usual size,
 * feed a cumulative sum on either side. While one of them is well above nothing the fit stands
 * still, for at most an hour. Times must increase. Not thread-safe.
 *
 * <p>Against a slow random walk the departures are not independent, so the run lengths published
 * for cumulative sums hold for white noise only; the limit in the rule book leaves room for that.
 */
final class Expectation {
  private static final long BLOCK_MS = 180_000;
  private static final int BLOCKS = 20;
  private static final int NEWEST_LEFT_OUT = 2;
  private static final int LEAST_BLOCKS = 5;
  private static final long LONGEST_HOLD_MS = 1_800_000;
  private static final long LEAD_MS = 3_600_000;

  /**
   * Only the newer three quarters of the time since the well was touched count: before, the well
   * fills.
   */
  private static final double REACH = Math.log(4);

  private static final double HOLD_ABOVE = 6;
  private static final double CLIP = 6;
  private static final int MEMORY = 360;
  private static final int WARM = 90;
  private static final double FROM_MEAN_ABSOLUTE = Math.sqrt(Math.PI / 2);

  private final double leastSigma;
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
  private long heldSinceMs = Long.MIN_VALUE;
  private double meanAbsolute;
  private int departures;
  private double departure = Double.NaN;

  /** An expectation whose departures are never taken for smaller than this. */
  Expectation(double leastSigma) {
    this.leastSigma = leastSigma;
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
    down.reset();
    up.reset();
  }

  /** Takes the mean level over the ten seconds from a time later than the time before. */
  void accept(long fromMs, double mean) {
    if (touchedMs == Long.MIN_VALUE) {
      touchedMs = fromMs - LEAD_MS; // nobody logged when; over an hour any origin long ago will do
    }
    double x =
        StrictMath.log(
            Math.max(TenSecondMeans.LENGTH_MS, fromMs + TenSecondMeans.LENGTH_MS / 2 - touchedMs));
    judge(fromMs, x, mean);
    long now = Math.floorDiv(fromMs, BLOCK_MS);
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
    if (departures > WARM) {
      size = Math.min(size, 3 * Math.max(meanAbsolute, leastSigma));
    }
    meanAbsolute += (size - meanAbsolute) / Math.min(departures, MEMORY);
    if (departures > WARM) {
      double z = Math.max(-CLIP, Math.min(CLIP, departure / sigma()));
      down.accept(fromMs, -z);
      up.accept(fromMs, z);
    }
    if (Math.max(down.value(), up.value()) > HOLD_ABOVE) {
      heldSinceMs = heldSinceMs == Long.MIN_VALUE ? fromMs : heldSinceMs;
    } else {
      heldSinceMs = Long.MIN_VALUE;
    }
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
    boolean held = heldSinceMs != Long.MIN_VALUE && nowMs - heldSinceMs < LONGEST_HOLD_MS;
    if (!held && heldSinceMs != Long.MIN_VALUE) {
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
  }

  private double at(double x) {
    double u = x - meanX;
    return meanY + slope * u + bend * (u * u - bendX * u - spreadX);
  }

  /** The last ten-second mean less what was expected; NaN until something is. */
  double departure() {
    return departure;
  }

  /** Its usual size as a standard deviation; NaN until known. */
  double sigma() {
    return departures <= WARM
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

  /**
   * When the level would reach another if it goes on as steeply as now; ms from {@code nowMs};
   * infinite when it does not rise, NaN when nothing is expected yet.
   */
  double msUntil(double level, long nowMs) {
    return until(level, nowMs, false, false);
  }

  /** The same, the sooner of as steeply as now and as steeply as in all of the last hour. */
  double soonestMsUntil(double level, long nowMs) {
    return until(level, nowMs, true, true);
  }

  /** The same, the later of the two. */
  double latestMsUntil(double level, long nowMs) {
    return until(level, nowMs, true, false);
  }

  private double until(double level, long nowMs, boolean both, boolean sooner) {
    if (Double.isNaN(meanY) || nowMs <= touchedMs) {
      return Double.NaN;
    }
    double x = StrictMath.log(nowMs - touchedMs);
    double steep = tangent(x);
    if (both) {
      steep = sooner ? Math.max(steep, slope) : Math.min(steep, slope);
    }
    if (steep <= 0) {
      return Double.POSITIVE_INFINITY;
    }
    double further = Math.max(0, level - at(x)) / steep;
    return (nowMs - touchedMs) * (StrictMath.exp(further) - 1);
  }
}

package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * What a day of half-hour means of a level says of the sea's tide in it: the share of the ambient
 * pressure it shows or, where there is none, the waves of half a day and of a day. A cubic and the
 * logarithm of time, as of a build-up, are fitted beside it by {@link Ridge}: what is known of a
 * tide before anything is seen (a share between nothing and all; amplitudes up to what the plan
 * allows for) stands until the means say more, and the error shrinks with it. Means of the first
 * eighth of the time since the well was touched do not count, for then it fills; the newest are
 * left to the slope that asks, so that a leak does not pass for a tide. A two hundredth of the
 * level's own range is taken to bend like a tide unseen (chosen as in {@link FreeSlope}, no
 * source). Not thread-safe.
 */
final class TideMemory {
  /** Radians an hour of M2: 28.9841042 degrees (NOAA, harmonic constituents). */
  static final double HALF_DAILY = Math.toRadians(28.9841042);

  /** Radians an hour of M2, S2, N2, K1 and O1 (same source). */
  private static final double[] SPEEDS = {
    HALF_DAILY,
    Math.toRadians(30),
    Math.toRadians(28.4397295),
    Math.toRadians(15.0410686),
    Math.toRadians(13.9430356)
  };

  /** How large they may be beside M2; common practice, no source. */
  private static final double[] SIZES = {1, 0.5, 0.3, 0.5, 0.4};

  private static final long BLOCK_MS = 1_800_000;
  private static final int BLOCKS = 56;
  private static final int LEAST = 20;
  private static final int TREND = 5;
  private static final int WAVES = 2 * SPEEDS.length;
  private static final double FREE = 1e-12;
  private static final double BENT = 0.005;
  private static final double FILLING = 0.125;
  private static final double MS_PER_HOUR = 3_600_000;

  private final int leftOut;
  private final double leastVariance;
  private final double[] hours = new double[BLOCKS];
  private final double[] level = new double[BLOCKS];
  private final double[] ambient = new double[BLOCKS];
  private final double[] residuals = new double[BLOCKS];
  private final Ridge shareFit = new Ridge(TREND + 1);
  private final Ridge waveFit = new Ridge(TREND + WAVES);
  private final double[] row = new double[TREND + WAVES];
  private final double[] priorShare = {0, 0, 0, 0, 0, 0.5};
  private final double[] sharePrecision = {FREE, FREE, FREE, FREE, FREE, 4};
  private final double[] noWave = new double[TREND + WAVES];
  private final double[] wavePrecision = new double[TREND + WAVES];
  private int count;
  private long originMs = Long.MIN_VALUE;
  private long block;
  private double sumHours;
  private double sumLevel;
  private double sumAmbient;
  private int inBlock;
  private int inAmbient;
  private double reference;
  private double shareBent;
  private double waveBent;

  /**
   * A memory that has seen nothing.
   *
   * @param horizonMs what is newer is left to the slope
   * @param resolution of the level
   * @param tideKPa the amplitude a tide may have in the level, as far as is known beforehand
   */
  TideMemory(long horizonMs, double resolution, double tideKPa) {
    leftOut = (int) (horizonMs / BLOCK_MS);
    leastVariance = resolution * resolution / 12 + 1e-9;
    Arrays.fill(wavePrecision, 0, TREND, FREE);
    for (int wave = 0; wave < WAVES; wave++) {
      double size = SIZES[wave / 2] * tideKPa;
      wavePrecision[TREND + wave] = 1 / (size * size);
    }
    restart();
  }

  /** Forgets everything. */
  void restart() {
    count = 0;
    originMs = Long.MIN_VALUE;
    shareBent = 0;
    waveBent = 0;
    clearBlock();
    shareFit.clear();
    shareFit.solve(1, priorShare, sharePrecision);
    waveFit.clear();
    waveFit.solve(1, noWave, wavePrecision);
  }

  private void clearBlock() {
    sumHours = 0;
    sumLevel = 0;
    sumAmbient = 0;
    inBlock = 0;
    inAmbient = 0;
  }

  /** Takes a level and the ambient pressure, NaN where there is none. */
  void accept(long atMs, double nowLevel, double nowAmbient) {
    if (originMs == Long.MIN_VALUE) {
      originMs = atMs;
      reference = nowLevel;
      block = Math.floorDiv(atMs, BLOCK_MS);
    }
    long now = Math.floorDiv(atMs, BLOCK_MS);
    if (now != block) {
      keep();
      block = now;
    }
    sumHours += hours(atMs);
    sumLevel += nowLevel - reference;
    inBlock++;
    if (!Double.isNaN(nowAmbient)) {
      sumAmbient += nowAmbient;
      inAmbient++;
    }
  }

  /** Hours since the memory began, as its waves count them. */
  double hours(long atMs) {
    return (atMs - originMs) / MS_PER_HOUR;
  }

  private void keep() {
    if (count == BLOCKS) {
      System.arraycopy(hours, 1, hours, 0, BLOCKS - 1);
      System.arraycopy(level, 1, level, 0, BLOCKS - 1);
      System.arraycopy(ambient, 1, ambient, 0, BLOCKS - 1);
      count--;
    }
    hours[count] = sumHours / inBlock;
    level[count] = sumLevel / inBlock;
    ambient[count] = inAmbient == 0 ? Double.NaN : sumAmbient / inAmbient;
    count++;
    clearBlock();
    fit(shareFit, priorShare, sharePrecision, true);
    fit(waveFit, noWave, wavePrecision, false);
  }

  private void fit(Ridge ridge, double[] prior, double[] precision, boolean withAmbient) {
    ridge.clear();
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    double leastAmbient = Double.POSITIVE_INFINITY;
    double mostAmbient = Double.NEGATIVE_INFINITY;
    int used = 0;
    for (int i = 0; i < count - leftOut; i++) {
      if (counts(i, withAmbient)) {
        fill(i, withAmbient);
        ridge.add(row, level[i]);
        least = Math.min(least, level[i]);
        most = Math.max(most, level[i]);
        leastAmbient = Math.min(leastAmbient, ambient[i]);
        mostAmbient = Math.max(mostAmbient, ambient[i]);
        used++;
      }
    }
    if (used < LEAST) {
      ridge.clear();
      ridge.solve(1, prior, precision);
      return;
    }
    ridge.solve(leastVariance, prior, precision);
    ridge.solve(Math.max(leastVariance, variance(ridge, withAmbient)), prior, precision);
    double unseen = BENT * (most - least);
    if (withAmbient) {
      shareBent = unseen / ((mostAmbient - leastAmbient) / 2);
    } else {
      waveBent = unseen * HALF_DAILY;
    }
  }

  /** Whether a mean counts: not where the well still fills, nor without an ambient pressure. */
  private boolean counts(int i, boolean withAmbient) {
    return hours[i] > FILLING * hours[count - 1] && !(withAmbient && Double.isNaN(ambient[i]));
  }

  private double variance(Ridge ridge, boolean withAmbient) {
    double squares = 0;
    int n = 0;
    for (int i = 0; i < count - leftOut; i++) {
      if (counts(i, withAmbient)) {
        fill(i, withAmbient);
        residuals[n] = level[i] - ridge.at(row);
        squares += residuals[n] * residuals[n];
        n++;
      }
    }
    int terms = withAmbient ? TREND + 1 : TREND + 4;
    return squares / (n - terms) * Correlation.variance(residuals, n);
  }

  /** The first ambient mean kept: taken off only for the digits. */
  private double ambientReference() {
    for (int i = 0; i < count; i++) {
      if (!Double.isNaN(ambient[i])) {
        return ambient[i];
      }
    }
    return 0;
  }

  /** Terms of a mean: the trend and the ambient pressure or the waves. */
  private void fill(int i, boolean withAmbient) {
    double x = (hours[i] - hours[count - 1]) / 12 + 1; // about -1 to 1
    row[0] = 1;
    row[1] = x;
    row[2] = x * x;
    row[3] = x * x * x;
    row[4] = StrictMath.log(hours[i] + 0.5);
    if (withAmbient) {
      row[TREND] = ambient[i] - ambientReference();
    } else {
      for (int wave = 0; wave < WAVES; wave++) {
        row[TREND + wave] = wave(wave, hours[i]);
      }
    }
  }

  /** A wave at that hour: of each constituent the cosine and the sine. */
  static double wave(int number, double h) {
    double angle = SPEEDS[number / 2] * h;
    return number % 2 == 0 ? StrictMath.cos(angle) : StrictMath.sin(angle);
  }

  /** How many waves there are. */
  static int waves() {
    return WAVES;
  }

  /** The share of the ambient pressure, between 0 and 1. */
  double share() {
    return Math.max(0, Math.min(1, shareFit.coefficient(TREND)));
  }

  /** Variance of the share. */
  double shareVariance() {
    Arrays.fill(row, 0);
    row[TREND] = 1;
    return shareFit.variance(row) + shareBent * shareBent;
  }

  /** Size of a wave in the level. */
  double size(int number) {
    return waveFit.coefficient(TREND + number);
  }

  /** Variance of the sum of the waves' sizes times these factors. */
  double waveVariance(double[] factors) {
    Arrays.fill(row, 0, TREND, 0);
    System.arraycopy(factors, 0, row, TREND, WAVES);
    return waveFit.variance(row) + waveBent * waveBent;
  }
}

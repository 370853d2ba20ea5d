package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * How fast a level moves by itself, the sea's tide taken out, with an error that holds: at least
 * about 95 of 100 true slopes lie within two errors. Least squares over {@value #BLOCKS} block
 * means of a horizon, as of the last whole block. Where an ambient pressure is given, a share of it
 * between nothing and all is fitted beside the slope, with what a day has taught ({@link
 * TideMemory}) as prior knowledge; where none ever was, waves of half a day and a day are taken
 * out, which for the first night are nothing but an allowance in the error. When the ambient
 * pressure goes missing its share stays as last fitted and its course is bridged ({@link
 * AmbientBridge}); the error grows by the largest slope that such a tide may have had meanwhile,
 * share × 2π/12.42 h × amplitude, as a bend in the last part {@code g} of the horizon tilts the
 * whole of it: by {@code 3g² − 2g³}.
 *
 * <p>A build-up bends like a tide too. One that began when the well was touched, {@code t} ago,
 * with the logarithm of time bends by its slope over {@code t}; a bend of up to three times that is
 * left free. The error also counts the residuals' correlation with their neighbours ({@link
 * Correlation}), their small number ({@code t ≈ z + (z³ + z)/4f}: Abramowitz and Stegun 26.7.5),
 * that a slope of less than a step of the resolution over the horizon cannot be seen, and a
 * twentieth of the slope for what none of these foresees. The factors three and a twentieth were
 * chosen so that the error held on logarithms and exponentials of any share of a tide; no source.
 * Times must increase. Not thread-safe.
 */
public final class FreeSlope {
  private static final int BLOCKS = 18;
  private static final int LEAST_BLOCKS = 6;
  private static final int TERMS = 4;
  private static final int SLOPE = 1;
  private static final int BEND = 2;
  private static final int SHARE = 3;
  private static final int PASSES = 3;
  private static final double BENT = 0.05;

  /** Between nothing and all any share is as likely, at the ends too: wider than a bell by 1.5. */
  private static final double BOX = 2.25;

  private static final double BENDS = 3;
  private static final double NOTHING = 1e-12;
  private static final double MS_PER_HOUR = 3_600_000;
  private static final double USUAL_TIDE_KPA = 5;
  private static final double FEW = 1.21; // (1.96² + 1)/4

  private final long blockMs;
  private final double resolution;
  private final TideMemory memory;
  private final AmbientBridge bridge;
  private final long[] index = new long[BLOCKS];
  private final double[] hours = new double[BLOCKS];
  private final double[] level = new double[BLOCKS];
  private final double[] ambient = new double[BLOCKS];
  private final double[] residuals = new double[BLOCKS];
  private final double[] waves = new double[TideMemory.waves()];
  private final double[] wave = new double[BLOCKS];
  private final Ridge regression = new Ridge(TERMS);
  private final double[] row = new double[TERMS];
  private final double[] prior = new double[TERMS];
  private final double[] precision = {NOTHING, NOTHING, NOTHING, NOTHING};
  private double width;
  private int count;
  private long block = Long.MIN_VALUE;
  private double sumHours;
  private double sumLevel;
  private double sumAmbient;
  private int inBlock;
  private int inAmbient;
  private double share = 0.5;
  private double shareVariance = 0.25;
  private double slope = Double.NaN;
  private double error = Double.NaN;

  /** A slope over that horizon, ms, of a level of that resolution, kPa, with the usual tide. */
  public FreeSlope(long horizonMs, double resolution) {
    this(horizonMs, resolution, USUAL_TIDE_KPA);
  }

  /**
   * A slope.
   *
   * @param horizonMs an hour to three, ms
   * @param resolution the smallest step of the level, kPa; 0 when not known
   * @param tideKPa amplitude of the tide in the level as far as is known beforehand: about 10 kPa
   *     for a metre where the level feels the open sea
   */
  public FreeSlope(long horizonMs, double resolution, double tideKPa) {
    blockMs = horizonMs / BLOCKS;
    this.resolution = resolution;
    memory = new TideMemory(horizonMs, resolution, tideKPa);
    bridge = new AmbientBridge(tideKPa);
  }

  /**
   * Takes a level, kPa, and the ambient pressure of about the same time, NaN where there is none.
   */
  public void accept(long atMs, double nowLevel, double nowAmbient) {
    if (Double.isNaN(nowLevel)) {
      return;
    }
    long now = Math.floorDiv(atMs, blockMs);
    if (now != block) {
      if (inBlock > 0) {
        keep();
      }
      block = now;
    }
    memory.accept(atMs, nowLevel, nowAmbient);
    sumHours += memory.hours(atMs);
    sumLevel += nowLevel;
    inBlock++;
    if (!Double.isNaN(nowAmbient)) {
      sumAmbient += nowAmbient;
      inAmbient++;
      bridge.saw(atMs, nowAmbient);
    }
  }

  /** The well was touched: what was learned of the level no longer holds. */
  public void restart() {
    count = 0;
    clearBlock();
    block = Long.MIN_VALUE;
    memory.restart();
    share = memory.share();
    shareVariance = memory.shareVariance();
    slope = Double.NaN;
    error = Double.NaN;
  }

  private void clearBlock() {
    sumHours = 0;
    sumLevel = 0;
    sumAmbient = 0;
    inBlock = 0;
    inAmbient = 0;
  }

  private void keep() {
    int old = count == BLOCKS ? 1 : 0;
    while (old < count && block - index[old] >= BLOCKS) {
      old++;
    }
    count -= old;
    System.arraycopy(index, old, index, 0, count);
    System.arraycopy(hours, old, hours, 0, count);
    System.arraycopy(level, old, level, 0, count);
    System.arraycopy(ambient, old, ambient, 0, count);
    index[count] = block;
    hours[count] = sumHours / inBlock;
    level[count] = sumLevel / inBlock;
    ambient[count] = inAmbient == 0 ? Double.NaN : sumAmbient / inAmbient;
    count++;
    clearBlock();
    if (count < LEAST_BLOCKS || 2 * (index[count - 1] - index[0] + 1) < BLOCKS) {
      slope = Double.NaN;
      error = Double.NaN;
    } else if (bridge.everSaw()) {
      fitWithAmbient();
    } else {
      fitWithWaves();
    }
  }

  private void fitWithAmbient() {
    double missing = bridge.fill(index, hours, ambient, count);
    double[] course = bridge.course();
    if (missing == 0) {
      fit(course, 0, memory.share(), memory.shareVariance());
      // a sealed well feels none of the tide and an open one all of it: beyond, it is the build-up
      // that bends like a tide
      share = Math.max(0, Math.min(1, regression.coefficient(SHARE)));
      shareVariance = BOX * variance(SHARE);
    }
    fit(course, share, 0, NOTHING);
    double tide = slopeOf(course);
    double most = Math.min(1, share + Math.sqrt(shareVariance));
    double bridged = most * bridge.steepest() * missing * missing * (3 - 2 * missing); // late bend
    error =
        Math.sqrt(
            variance(SLOPE) / (width * width)
                + tide * tide * shareVariance
                + bridged * bridged
                + floor());
  }

  private void fitWithWaves() {
    double[] course = bridge.course();
    Arrays.fill(course, 0, count, 0);
    for (int w = 0; w < waves.length; w++) {
      for (int i = 0; i < count; i++) {
        wave[i] = TideMemory.wave(w, hours[i]);
        course[i] += memory.size(w) * wave[i];
      }
      waves[w] = slopeOf(wave);
    }
    fit(course, 1, 0, NOTHING);
    error = Math.sqrt(variance(SLOPE) / (width * width) + memory.waveVariance(waves) + floor());
  }

  /**
   * Fits slope, bend and a share of the course left after a part of it has been taken out. What
   * began when the well was touched, {@code t} ago, bends by about its slope over {@code t}: a
   * logarithm by just that.
   */
  private void fit(double[] course, double takenOut, double priorShare, double priorVariance) {
    double middle = mean(hours);
    width = (hours[count - 1] - hours[0]) / 2;
    double levelMean = mean(level);
    double courseMean = mean(course);
    regression.clear();
    double variance = resolution * resolution / 12 + 1e-9;
    for (int i = 0; i < count; i++) {
      fill(i, middle, course[i] - courseMean);
      regression.add(row, level[i] - levelMean - takenOut * (course[i] - courseMean));
    }
    prior[SHARE] = priorShare;
    precision[SHARE] = 1 / priorVariance;
    precision[BEND] = bendPrecision(course, takenOut + priorShare, priorVariance);
    for (int pass = 0; pass < PASSES; pass++) {
      regression.solve(variance, prior, precision);
      double squares = 0;
      for (int i = 0; i < count; i++) {
        fill(i, middle, course[i] - courseMean);
        residuals[i] =
            level[i] - levelMean - takenOut * (course[i] - courseMean) - regression.at(row);
        squares += residuals[i] * residuals[i];
      }
      int freedom = count - TERMS;
      double few = 1 + FEW / freedom;
      double found = squares / freedom * Correlation.variance(residuals, count) * few * few;
      variance = Math.max(resolution * resolution / 12 + 1e-9, found);
    }
    regression.solve(variance, prior, precision);
    slope = regression.coefficient(SLOPE) / width;
  }

  /** One over the variance of the bend, for the slope as far as it is known before the fit. */
  private double bendPrecision(double[] course, double ofCourse, double variance) {
    double tide = slopeOf(course);
    double before =
        Math.abs(slopeOf(level) - ofCourse * tide) + Math.sqrt(variance) * Math.abs(tide);
    double bend = BENDS * before * width * width / (2 * hours[count - 1]);
    return 1 / (bend * bend + NOTHING);
  }

  private void fill(int i, double middle, double course) {
    double x = (hours[i] - middle) / width;
    row[0] = 1;
    row[SLOPE] = x;
    row[BEND] = x * x;
    row[SHARE] = course;
  }

  private double variance(int term) {
    Arrays.fill(row, 0);
    row[term] = 1;
    return regression.variance(row);
  }

  private double slopeOf(double[] course) {
    return product(hours, course) / product(hours, hours);
  }

  private double floor() {
    double unseen = resolution / 2 / ((index[count - 1] - index[0] + 1) * blockMs / MS_PER_HOUR);
    double bent = BENT * slope;
    return unseen * unseen + bent * bent;
  }

  private double product(double[] a, double[] b) {
    double ma = mean(a);
    double mb = mean(b);
    double sum = 0;
    for (int i = 0; i < count; i++) {
      sum += (a[i] - ma) * (b[i] - mb);
    }
    return sum;
  }

  private double mean(double[] values) {
    double sum = 0;
    for (int i = 0; i < count; i++) {
      sum += values[i];
    }
    return sum / count;
  }

  /** Slope, kPa an hour, as of the last whole block; NaN until half the horizon is known. */
  public double slopePerHour() {
    return slope;
  }

  /** The slope's standard error, kPa an hour. */
  public double slopeError() {
    return error;
  }
}

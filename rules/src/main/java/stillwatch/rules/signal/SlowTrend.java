package stillwatch.rules.signal;

/**
 * How a level drifts over three hours once the sea's tide is taken out: least squares of ten-minute
 * means on time and, where there is one, the ambient pressure, of which it shows a share between
 * nothing and all. The standard error treats the means as independent, so it is a lower bound where
 * the departures wander. Times must increase. Not thread-safe.
 */
public final class SlowTrend {
  private static final int BLOCKS = 18;
  private static final long BLOCK_MS = 600_000;
  private static final int LEAST_BLOCKS = 12;

  private final double[] hours = new double[BLOCKS];
  private final double[] level = new double[BLOCKS];
  private final double[] ambient = new double[BLOCKS];
  private int count;
  private long block = Long.MIN_VALUE;
  private double sumLevel;
  private double sumAmbient;
  private int inBlock;
  private double slope = Double.NaN;
  private double error = Double.NaN;

  /** Takes a level and the ambient pressure of about the same time, NaN where there is none. */
  public void accept(long atMs, double nowLevel, double nowAmbient) {
    long now = Math.floorDiv(atMs, BLOCK_MS);
    if (now != block) {
      if (inBlock > 0) {
        keep();
      }
      block = now;
    }
    sumLevel += nowLevel;
    sumAmbient += nowAmbient;
    inBlock++;
  }

  /** What was learned no longer holds. */
  public void restart() {
    count = 0;
    inBlock = 0;
    sumLevel = 0;
    sumAmbient = 0;
    block = Long.MIN_VALUE;
    slope = Double.NaN;
    error = Double.NaN;
  }

  private void keep() {
    if (count == BLOCKS) {
      System.arraycopy(hours, 1, hours, 0, BLOCKS - 1);
      System.arraycopy(level, 1, level, 0, BLOCKS - 1);
      System.arraycopy(ambient, 1, ambient, 0, BLOCKS - 1);
      count--;
    }
    hours[count] = block / 6.0;
    level[count] = sumLevel / inBlock;
    ambient[count] = sumAmbient / inBlock;
    count++;
    sumLevel = 0;
    sumAmbient = 0;
    inBlock = 0;
    if (count >= LEAST_BLOCKS) {
      fit();
    }
  }

  private void fit() {
    double mh = mean(hours);
    double ml = mean(level);
    double ma = mean(ambient);
    double hh = 0;
    double hl = 0;
    double ha = 0;
    double aa = 0;
    double al = 0;
    double ll = 0;
    for (int i = 0; i < count; i++) {
      double h = hours[i] - mh;
      double l = level[i] - ml;
      double a = ambient[i] - ma;
      hh += h * h;
      hl += h * l;
      ha += h * a;
      aa += a * a;
      al += a * l;
      ll += l * l;
    }
    double determinant = hh * aa - ha * ha;
    if (determinant > 1e-6 * hh * aa) { // false where there is no ambient pressure
      // a sealed well feels none of the tide and an open one all of it: beyond, it is the build-up
      // that bends like a tide
      double free = (al * hh - hl * ha) / determinant;
      double share = Math.max(0, Math.min(1, free));
      slope = (hl - share * ha) / hh;
      double rest = ll - 2 * share * al + share * share * aa - slope * slope * hh;
      error = Math.sqrt(Math.max(0, rest) / (count - 3) * aa / determinant);
    } else {
      slope = hl / hh;
      error = Math.sqrt(Math.max(0, ll - slope * hl) / (count - 2) / hh);
    }
  }

  private double mean(double[] values) {
    double sum = 0;
    for (int i = 0; i < count; i++) {
      sum += values[i];
    }
    return sum / count;
  }

  /** Slope an hour with the tide taken out, as of the last whole ten minutes; NaN until known. */
  public double slopePerHour() {
    return slope;
  }

  /** Its standard error. */
  public double slopeError() {
    return error;
  }
}

package stillwatch.rules.signal;

/**
 * The course of an ambient pressure over block means of which some are missing. Between two that
 * are known it goes straight; before the first and after the last it stands still. Up to {@value
 * #SHORT} missing in a row between two known ones change nothing that matters. It also learns how
 * steep the sea's tide may be. Not thread-safe.
 */
final class AmbientBridge {
  private static final int SHORT = 3;
  private static final int MOST = 18;
  private static final double TIDE_MS = 2 * Math.PI / TideMemory.HALF_DAILY * 3_600_000;

  private final double usualAmplitude;
  private final double[] course = new double[MOST];
  private long firstMs = Long.MIN_VALUE;
  private long lastMs;
  private double least = Double.POSITIVE_INFINITY;
  private double most = Double.NEGATIVE_INFINITY;

  /** A bridge for tides of that amplitude until a whole tide has been seen. */
  AmbientBridge(double usualAmplitude) {
    this.usualAmplitude = usualAmplitude;
  }

  /** Notes an ambient pressure. */
  void saw(long atMs, double value) {
    firstMs = firstMs == Long.MIN_VALUE ? atMs : firstMs;
    lastMs = atMs;
    least = Math.min(least, value);
    most = Math.max(most, value);
  }

  /** Whether there ever was one. */
  boolean everSaw() {
    return firstMs != Long.MIN_VALUE;
  }

  /** The steepest tide to reckon with, its unit an hour. */
  double steepest() {
    double seen = (most - least) / 2;
    double amplitude = lastMs - firstMs < TIDE_MS ? Math.max(seen, usualAmplitude) : seen;
    return TideMemory.HALF_DAILY * amplitude;
  }

  /**
   * Fills the course.
   *
   * @param index numbers of the blocks
   * @param hours their mean times
   * @param ambient their means, NaN where there is none
   * @param count how many there are
   * @return the share of the time for which the course is not known, 0 to 1
   */
  double fill(long[] index, double[] hours, double[] ambient, int count) {
    int known = -1;
    long missing = 0;
    for (int i = 0; i <= count; i++) {
      if (i < count && Double.isNaN(ambient[i])) {
        continue;
      }
      for (int j = known + 1; j < i; j++) {
        course[j] = between(hours, ambient, known, i, j, count);
      }
      if (i - known - 1 > (known < 0 || i == count ? 0 : SHORT)) {
        long from = known < 0 ? index[0] : index[known] + 1;
        missing += (i == count ? index[count - 1] + 1 : index[i]) - from;
      }
      if (i < count) {
        course[i] = ambient[i];
        known = i;
      }
    }
    return missing == 0 ? 0 : (double) missing / (index[count - 1] - index[0] + 1);
  }

  private static double between(
      double[] hours, double[] ambient, int before, int after, int at, int count) {
    if (before < 0) {
      return after == count ? 0 : ambient[after];
    }
    if (after == count) {
      return ambient[before];
    }
    double done = (hours[at] - hours[before]) / (hours[after] - hours[before]);
    return ambient[before] + done * (ambient[after] - ambient[before]);
  }

  /** The course as last filled. */
  double[] course() {
    return course;
  }
}

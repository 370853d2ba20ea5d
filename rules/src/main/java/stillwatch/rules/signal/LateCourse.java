package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * The largest change in readings that came late, from the level before them: the median of three,
 * so that one wild reading is none. Times must increase. Not thread-safe.
 */
public final class LateCourse {
  /** It has begun where the last departure was that is less than so small a part of it. */
  private static final double BEGUN = 0.1;

  private static final int LEAST_EXPONENT = -20;

  /** When the departure was last under each power of two from the least on. */
  private final long[] underMs = new long[40];

  private final double before;
  private final RobustLevel median = new RobustLevel(3);
  private long fromMs = Long.MIN_VALUE;
  private long lastMs = Long.MIN_VALUE;
  private double change;
  private long onsetMs;

  /** A course from this level on, in the gauge's unit. */
  public LateCourse(double before) {
    this.before = before;
  }

  /** Takes a finite reading; one that is not later than the last is left out. */
  public void accept(long atMs, double value) {
    if (atMs <= lastMs) {
      return;
    }
    if (fromMs == Long.MIN_VALUE) {
      fromMs = atMs;
      Arrays.fill(underMs, atMs);
    }
    lastMs = atMs;
    double departure = median.accept(value) - before;
    if (Math.abs(departure) > Math.abs(change)) {
      change = departure;
      int exponent = Math.getExponent(BEGUN * change) - LEAST_EXPONENT;
      onsetMs = exponent < 0 ? fromMs : underMs[Math.min(exponent, underMs.length - 1)];
    }
    for (int i = underMs.length - 1; i >= 0; i--) {
      if (Math.abs(departure) < Math.scalb(1.0, i + LEAST_EXPONENT)) {
        underMs[i] = atMs;
      }
    }
  }

  /** The largest change; negative is a fall. */
  public double change() {
    return change;
  }

  /** When it began, source's time. */
  public long onsetMs() {
    return onsetMs;
  }

  /** The first reading's time. */
  public long fromMs() {
    return fromMs;
  }
}

package stillwatch.rules.signal;

/**
 * The largest change in readings that came late, from the level before them: the median of three,
 * so that one wild reading is none. Times must increase. Not thread-safe.
 */
public final class LateCourse {
  private final double before;
  private final RobustLevel median = new RobustLevel(3);
  private long fromMs = Long.MIN_VALUE;
  private long lastMs = Long.MIN_VALUE;
  private double change;
  private long onsetMs;
  private long leftMs;

  /** A course from this level on, in the gauge's unit. */
  public LateCourse(double before) {
    this.before = before;
  }

  /** Takes a finite reading; one that is not later than the last is left out. */
  public void accept(long atMs, double value) {
    if (atMs <= lastMs) {
      return;
    }
    fromMs = fromMs == Long.MIN_VALUE ? atMs : fromMs;
    lastMs = atMs;
    double departure = median.accept(value) - before;
    if (Math.abs(departure) < Math.abs(change) / 10 || change == 0) {
      leftMs = atMs;
    }
    if (Math.abs(departure) > Math.abs(change)) {
      change = departure;
      onsetMs = leftMs;
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

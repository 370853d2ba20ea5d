package stillwatch.rules.signal;

/**
 * How long a gauge has repeated its last value, and how long it usually does. The habit is the
 * longest of its completed runs, forgotten slowly: each shorter run takes 1/{@value #FORGET} of the
 * way down to it. Not thread-safe.
 */
final class Repeats {
  private static final int FORGET = 512;

  private double value = Double.NaN;
  private long sinceMs;
  private long lastMs;
  private int count;
  private double habitMs;
  private long changes;

  /** Takes a finite reading stamped later than the one before; 0.0 and -0.0 are the same value. */
  void accept(long atMs, double reading) {
    if (reading == value) {
      count++;
    } else {
      if (!Double.isNaN(value)) {
        long run = atMs - sinceMs;
        habitMs = run >= habitMs ? run : habitMs + (run - habitMs) / FORGET;
        changes++;
      }
      value = reading;
      sinceMs = atMs;
      count = 1;
    }
    lastMs = atMs;
  }

  /** From the first reading of the present run to the last, ms. */
  long unchangedMs() {
    return lastMs - sinceMs;
  }

  /** Readings in the present run. */
  int unchangedCount() {
    return count;
  }

  /** The longest run to be expected, ms; 0 before the first change. */
  double habitMs() {
    return habitMs;
  }

  /** Changes seen. */
  long changes() {
    return changes;
  }
}

package stillwatch.ingest.recording;

import java.util.Arrays;

/** The median of the last few steps between rows, ms; constant memory. Not thread-safe. */
final class UsualStep {
  private static final int KEPT = 31;

  private final long[] steps = new long[KEPT];
  private int count;

  /** Takes a step from one row to the next, above zero. */
  void add(long ms) {
    steps[count % KEPT] = ms;
    count++;
  }

  /** Of how many steps it is. */
  int known() {
    return Math.min(count, KEPT);
  }

  /** The median step, of two middle ones the shorter; 1000 ms where no step is known. */
  long ms() {
    int n = known();
    if (n == 0) {
      return 1000;
    }
    long[] sorted = Arrays.copyOf(steps, n);
    Arrays.sort(sorted);
    return sorted[(n - 1) / 2];
  }
}

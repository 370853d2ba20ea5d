package stillwatch.rules.signal;

/**
 * Median of the last few readings, of as many as there are before that (of an even number the lower
 * of the two in the middle). Of five, two wild readings do nothing to it and a true step is seen on
 * the third; of three, one and the second. Not thread-safe.
 */
final class RobustLevel {
  private final int size;
  private final double[] recent;
  private final double[] sorted;
  private int count;
  private int next;

  /** A median of so many readings, an odd number. */
  RobustLevel(int size) {
    if (size < 1 || size % 2 == 0) {
      throw new IllegalArgumentException("a median of " + size + " readings; it must be odd");
    }
    this.size = size;
    recent = new double[size];
    sorted = new double[size];
  }

  /** Takes a finite reading and returns the median. */
  double accept(double value) {
    int at;
    if (count == size) {
      double leaving = recent[next];
      at = 0;
      while (sorted[at] != leaving) {
        at++;
      }
    } else {
      at = count++;
    }
    recent[next] = value;
    next = next + 1 == size ? 0 : next + 1;
    while (at > 0 && sorted[at - 1] > value) {
      sorted[at] = sorted[at - 1];
      at--;
    }
    while (at < count - 1 && sorted[at + 1] < value) {
      sorted[at] = sorted[at + 1];
      at++;
    }
    sorted[at] = value;
    return median();
  }

  /** The median; of no meaning before the first reading. */
  double median() {
    return sorted[(count - 1) / 2];
  }

  /**
   * How far the middle one in time of them stands from their median; 0 before there are enough. On
   * a step or a ramp it is the median; only a reading that its neighbours on both sides disown is
   * not.
   */
  double middleOff() {
    int middle = next + size / 2;
    return count < size ? 0 : recent[middle < size ? middle : middle - size] - sorted[size / 2];
  }
}

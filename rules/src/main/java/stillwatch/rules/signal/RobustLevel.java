package stillwatch.rules.signal;

/**
 * Median of the last five readings, of as many as there are before that (of an even number the
 * lower of the two in the middle). Two wild readings in five do nothing to it; a true step is seen
 * three readings late. Not thread-safe.
 */
final class RobustLevel {
  private static final int SIZE = 5;

  private final double[] recent = new double[SIZE];
  private final double[] sorted = new double[SIZE];
  private int count;
  private int next;

  /** Takes a finite reading and returns the median. */
  double accept(double value) {
    int at;
    if (count == SIZE) {
      double leaving = recent[next];
      at = 0;
      while (sorted[at] != leaving) {
        at++;
      }
    } else {
      at = count++;
    }
    recent[next] = value;
    next = next + 1 == SIZE ? 0 : next + 1;
    while (at > 0 && sorted[at - 1] > value) {
      sorted[at] = sorted[at - 1];
      at--;
    }
    while (at < count - 1 && sorted[at + 1] < value) {
      sorted[at] = sorted[at + 1];
      at++;
    }
    sorted[at] = value;
    return sorted[(count - 1) / 2];
  }

  /**
   * How far the middle one in time of the last five stands from their median; 0 before there are
   * five. On a step or a ramp it is the median; only a reading that its neighbours on both sides
   * disown is not.
   */
  double middleOff() {
    return count < SIZE ? 0 : recent[(next + SIZE / 2) % SIZE] - sorted[SIZE / 2];
  }
}

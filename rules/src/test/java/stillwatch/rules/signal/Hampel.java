package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * Hampel's identifier of a wild reading (F. R. Hampel, J. Am. Stat. Assoc. 69, 1974, 383-393; R. K.
 * Pearson, IEEE Trans. Control Syst. Technol. 10, 2002, 55-63; both from memory): the middle of
 * {@code 2K + 1} readings is one when it stands farther from their median than so many deviations,
 * which are 1.4826 times the median distance from the median. Half of the readings of a coarse
 * gauge may be the same, whose median distance is nothing; a floor takes its place, and where that
 * is nothing too, no reading is wild. It is told {@code K} readings late. Not thread-safe.
 */
final class Hampel {
  /** One over the upper quartile of the normal law. */
  static final double FROM_MEDIAN_DISTANCE = 1.482602218505602;

  private static final int USUAL_REACH = 2;
  private static final double USUAL_LIMIT = 3;

  private final RobustLevel window;
  private final double[] recent;
  private int count;
  private final double limit;
  private final double floor;

  /** The usual identifier: two readings on either side, three deviations. */
  Hampel(double floor) {
    this(USUAL_REACH, USUAL_LIMIT, floor);
  }

  /**
   * An identifier.
   *
   * @param reach readings on either side of the middle one
   * @param limit deviations beyond which it is wild
   * @param floor the least deviation, in the reading's unit; a step of its resolution
   */
  Hampel(int reach, double limit, double floor) {
    window = new RobustLevel(2 * reach + 1);
    recent = new double[2 * reach + 1];
    this.limit = limit;
    this.floor = floor;
  }

  /** Takes a finite reading; says whether the middle one of the window is wild. */
  boolean accept(double value) {
    window.accept(value);
    recent[count++ % recent.length] = value;
    double scale = scale();
    return scale > 0 && Math.abs(window.middleOff()) > limit * scale;
  }

  /** The median of the window, or of the readings so far; of no meaning before the first. */
  double median() {
    return window.median();
  }

  /** The deviation by which the middle one is judged; NaN until the window is full. */
  double scale() {
    if (count < recent.length) {
      return Double.NaN;
    }
    double median = median();
    double[] distances = Arrays.stream(recent).map(v -> Math.abs(v - median)).sorted().toArray();
    return Math.max(floor, FROM_MEDIAN_DISTANCE * distances[recent.length / 2]);
  }
}

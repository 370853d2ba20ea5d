package stillwatch.bench.real;

/**
 * Where a pressure visibly turns: the last reading near the highest of the ten minutes before the
 * end of the steepest minute of the recording, where near is a twentieth of what is lost in that
 * minute. A plain method of our own, with no share in how the rules decide.
 *
 * @param row the reading
 * @param steepest the row at which the steepest minute begins
 * @param fallPa how much is lost in it
 */
record Turn(int row, int steepest, double fallPa) {
  private static final int MINUTE = 60;
  private static final int TEN_MINUTES = 600;

  /** The turn in readings of one a second. */
  static Turn of(double[] values) {
    int steepest = 0;
    for (int i = 0; i + MINUTE < values.length; i++) {
      if (values[i] - values[i + MINUTE] > values[steepest] - values[steepest + MINUTE]) {
        steepest = i;
      }
    }
    int highest = Math.max(0, steepest + MINUTE - TEN_MINUTES);
    for (int i = highest; i <= steepest + MINUTE; i++) {
      highest = values[i] >= values[highest] ? i : highest;
    }
    double fall = values[steepest] - values[steepest + MINUTE];
    int turn = highest;
    for (int i = highest; i <= steepest + MINUTE; i++) {
      turn = values[i] >= values[highest] - fall / 20 ? i : turn;
    }
    return new Turn(turn, steepest, fall);
  }
}

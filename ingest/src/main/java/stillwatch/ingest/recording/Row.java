package stillwatch.ingest.recording;

/**
 * One row of a recording, read but not yet placed in the log.
 *
 * @param line its line in the file, from 1
 * @param atMs the source's time, ms since 1970 UTC
 * @param receivedMs the time of reception that the row states; {@link #UNSTATED} where it states
 *     none
 * @param operation what its operation cell says; empty where it says nothing
 * @param column the gauge of a long row; {@link #NO_GAUGE} where the plan maps none, and in wide
 *     rows
 * @param values one value a column of the layout, in a long row only the gauge's; NaN where there
 *     is none
 * @param qualities their quality codes
 */
record Row(
    long line,
    long atMs,
    long receivedMs,
    String operation,
    int column,
    double[] values,
    byte[] qualities) {
  static final long UNSTATED = Long.MIN_VALUE;
  static final int NO_GAUGE = -1;

  /** The stated time of reception, or the source's time where none is stated. */
  long statedMs() {
    return receivedMs == UNSTATED ? atMs : receivedMs;
  }
}

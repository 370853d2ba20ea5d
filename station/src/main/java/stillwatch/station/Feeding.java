package stillwatch.station;

/**
 * How the log's time runs.
 *
 * @param drill it is a recording's, not this machine's
 * @param pace seconds of log time per second of this machine's time
 */
record Feeding(boolean drill, double pace) {
  /** The log's time is the machine's. */
  static Feeding live() {
    return new Feeding(false, 1);
  }
}

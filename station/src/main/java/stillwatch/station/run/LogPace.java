package stillwatch.station.run;

import java.util.function.BooleanSupplier;

/**
 * How the log's time runs.
 *
 * @param drill it is a recording's, not this machine's
 * @param pace seconds of log time per second of this machine's time
 * @param over whether nothing more is meant to come
 */
public record LogPace(boolean drill, double pace, BooleanSupplier over) {
  /** The log's time is the machine's. */
  public static LogPace live() {
    return new LogPace(false, 1, () -> false);
  }
}

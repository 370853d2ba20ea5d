package stillwatch.rules.signal;

/**
 * How far a gauge's level goes to and fro by itself, over the time of a sudden fall and over ten
 * minutes or three periods, once the well has settled. Not thread-safe.
 */
final class Swings {
  private static final int SUDDEN_MEMORY = 120;
  private static final int STEADY_MEMORY = 36;

  /** So long after it was touched the well bends too much to tell how its gauges swing. */
  private static final long FILLS_MS = 3_600_000;

  /**
   * What a gauge may swing by over the time of a sudden fall until that is known, in accuracies.
   */
  private static final double SUDDEN_UNKNOWN = 0.5;

  /** The same over ten minutes or three periods. */
  private static final double STEADY_UNKNOWN = 1.5;

  private final TrackSettings settings;
  private AllanScale sudden;
  private AllanScale steady;
  private long settledMs = Long.MIN_VALUE;

  Swings(TrackSettings settings) {
    this.settings = settings;
    sudden = newSudden();
    steady = newSteady();
  }

  private AllanScale newSudden() {
    return AllanScale.robust(settings.pace().suddenMs(), SUDDEN_MEMORY);
  }

  private AllanScale newSteady() {
    return AllanScale.robust(settings.pace().swingMs(), STEADY_MEMORY);
  }

  /** Takes a level; times must increase. */
  void accept(long atMs, double level) {
    if (atMs >= settledMs) {
      sudden.accept(atMs, level);
      steady.accept(atMs, level);
    }
  }

  /** The well was touched: what a gauge did while it flowed tells nothing of a shut-in. */
  void touched(long atMs) {
    settledMs = atMs + FILLS_MS;
    sudden = newSudden();
    steady = newSteady();
  }

  /** The deviation over the time of a sudden fall; until known what a gauge may swing by. */
  double sudden() {
    double deviation = sudden.deviation();
    return Double.isNaN(deviation) ? SUDDEN_UNKNOWN * settings.accuracy() : deviation;
  }

  /** The deviation over ten minutes or three periods; until known what a gauge may swing by. */
  double steady() {
    double deviation = steady.deviation();
    return Double.isNaN(deviation) ? STEADY_UNKNOWN * settings.accuracy() : deviation;
  }
}

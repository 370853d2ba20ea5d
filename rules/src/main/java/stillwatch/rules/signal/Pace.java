package stillwatch.rules.signal;

/**
 * How windows follow a gauge's own period. A gauge that reads every second fills a window of a
 * minute with sixty readings; one that reads every minute needs minutes for two. Every span below
 * is the larger of what the trade wants and what so few readings can show. A value; safe from any
 * thread.
 *
 * @param periodMs how often the gauge reads, ms
 */
public record Pace(long periodMs) {
  private static final long SLOW_MS = 5_000;

  /** How many readings the level is the median of: five, or three where that would take minutes. */
  int medianOf() {
    return periodMs < SLOW_MS ? 5 : 3;
  }

  /** The span of one mean, ms: ten seconds or one period. */
  long meanMs() {
    return Math.max(10_000, periodMs);
  }

  /** The span of one block of the expectation, ms: three minutes or three periods. */
  long expectationBlockMs() {
    return Math.max(180_000, 3 * periodMs);
  }

  /** The span over which a sudden fall is judged, ms: a minute or six periods. */
  long suddenMs() {
    return Math.max(60_000, 6 * periodMs);
  }

  /** The span over which a steady fall is judged, ms: ten minutes or twenty periods. */
  long steadyMs() {
    return Math.max(600_000, 20 * periodMs);
  }

  /**
   * The span over which it is learned how far the gauge swings by itself, ms: ten minutes or three
   * periods. It takes ten spans to know, so a gauge that reads seldom must not need hours for one.
   */
  long swingMs() {
    return Math.max(600_000, 3 * periodMs);
  }

  /** A block of the sudden fall, ms: five seconds or one period. */
  long suddenBlockMs() {
    return Math.max(SLOW_MS, periodMs);
  }

  /** How many blocks a level must be held for to count as held: twenty seconds, or two readings. */
  int heldBlocks() {
    return periodMs <= SLOW_MS ? 5 : 2;
  }

  /**
   * How many blocks it must be lost for, the one that has begun among them: ten seconds, or one
   * level where that is the median of three readings.
   */
  int lostBlocks() {
    return periodMs <= SLOW_MS ? 3 : 1;
  }

  /**
   * How long a fall takes to count, ms.
   *
   * @param soonestMs where it falls just before a block of time ends
   * @param latestMs where it falls just after one has begun
   */
  public record Delay(long soonestMs, long latestMs) {}

  /** How long a fall takes to count as sudden, however large it is. */
  public Delay sudden() {
    long soonestMs = lagMs() + (lostBlocks() - 1) * suddenBlockMs();
    return new Delay(soonestMs, soonestMs + suddenBlockMs());
  }

  /**
   * How long a fall takes to count as sustained, however large it is: one mean adds no more than
   * {@value Expectation#CLIP} deviations to the sum.
   *
   * @param deviations so many of them raise the alert
   */
  public Delay sustained(double deviations) {
    long soonestMs = lagMs() + (long) Math.ceil(deviations / Expectation.CLIP) * meanMs();
    return new Delay(soonestMs, soonestMs + meanMs());
  }

  private long lagMs() {
    return medianOf() / 2 * periodMs;
  }
}

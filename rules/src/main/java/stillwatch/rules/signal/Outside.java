package stillwatch.rules.signal;

/** What a gauge read outside its range. Not thread-safe. */
final class Outside {
  private boolean now;
  private boolean lately;
  private long sinceMs;
  private long lastMs;
  private long receivedMs = Long.MIN_VALUE;
  private double last = Double.NaN;
  private long count;

  /** Takes a reading outside the range. */
  void accept(long atMs, long receivedAtMs, double value) {
    if (!now) {
      now = true;
      sinceMs = atMs;
    }
    lately = true;
    lastMs = Math.max(atMs, sinceMs);
    receivedMs = receivedAtMs;
    last = value;
    count++;
  }

  /** A reading inside the range came. */
  void end() {
    now = false;
  }

  /** What has been so far was said. */
  void said() {
    lately = now;
  }

  /** Whether the last reading was outside. */
  boolean now() {
    return now;
  }

  /** The last one; NaN before the first. */
  double last() {
    return last;
  }

  /** Log time of the last one; {@link Long#MIN_VALUE} before the first. */
  long receivedMs() {
    return receivedMs;
  }

  /** How many there were. */
  long count() {
    return count;
  }

  /** What the rules see of them, beside what waits in quarantine. */
  Range range(int waiting, double discarded, double jumps, double leap) {
    return new Range(
        lately,
        now ? (lastMs - sinceMs) / 1000.0 : 0,
        sinceMs,
        last,
        waiting,
        discarded,
        jumps,
        leap);
  }
}

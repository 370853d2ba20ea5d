package stillwatch.rules.signal;

/** Readings of a gauge that are not later than the last one believed. Not thread-safe. */
public final class Lateness {
  private long newestMs = Long.MIN_VALUE;
  private long count;
  private long streak;
  private long backMs;

  /** Takes the source's time of a reading, and tells whether it comes too late to be believed. */
  boolean late(long atMs) {
    if (atMs <= newestMs) {
      count++;
      streak++;
      backMs = newestMs - atMs;
      return true;
    }
    newestMs = atMs;
    return false;
  }

  /** A reading was believed. */
  void end() {
    streak = 0;
    backMs = 0;
  }

  /** How many there were. */
  public long count() {
    return count;
  }

  /** How many came in a row; 0 when the last reading was believed. */
  public long streak() {
    return streak;
  }

  /** How far the last of those lies back, ms; 0 when the last reading was believed. */
  public long backMs() {
    return backMs;
  }
}

package stillwatch.ingest.recording;

/** The last few stretches of time that no row has filled. Not thread-safe. */
final class Gaps {
  private static final int KEPT = 16;

  private final long[] fromMs = new long[KEPT];
  private final long[] toMs = new long[KEPT];
  private int count;

  /** Nothing lies between these two stamps. */
  void add(long fromMs, long toMs) {
    this.fromMs[count % KEPT] = fromMs;
    this.toMs[count % KEPT] = toMs;
    count++;
  }

  /** Whether a stamp lies within one of them. */
  boolean hold(long ms) {
    for (int i = 0; i < Math.min(count, KEPT); i++) {
      if (ms > fromMs[i] && ms < toMs[i]) {
        return true;
      }
    }
    return false;
  }
}

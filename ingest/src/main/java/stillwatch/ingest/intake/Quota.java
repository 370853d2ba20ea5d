package stillwatch.ingest.intake;

import java.util.Map;
import java.util.function.LongSupplier;
import stillwatch.ingest.entrance.BoundedMap;

/**
 * How much of what is refused is kept within a minute, of one source and of all. The figures are
 * common practice, with no source: a broken adapter is understood from far less. Safe from any
 * thread.
 */
final class Quota {
  private static final long MINUTE_NS = 60_000_000_000L;
  private static final long EACH_BYTES = 200; // the reason and the source go with it
  private static final long OF_ONE = 1L << 20;
  private static final long OF_ALL = 8L << 20;
  private static final int SOURCES = 1000;

  private final LongSupplier nowNs;
  private final Map<String, Long> bySource = new BoundedMap<>(SOURCES);
  private long ofAll;
  private long minuteNs;

  /** A quota by this steady clock, ns from any origin. */
  Quota(LongSupplier nowNs) {
    this.nowNs = nowNs;
    minuteNs = nowNs.getAsLong();
  }

  /** Whether so many bytes of a source are kept; they then are counted. */
  synchronized boolean keeps(String source, long bytes) {
    long now = nowNs.getAsLong();
    if (now - minuteNs >= MINUTE_NS) {
      minuteNs = now;
      ofAll = 0;
      bySource.clear();
    }
    long more = bytes + EACH_BYTES;
    long ofOne = bySource.getOrDefault(source, 0L) + more;
    if (ofOne > OF_ONE || ofAll + more > OF_ALL) {
      return false;
    }
    bySource.put(source, ofOne);
    ofAll += more;
    return true;
  }
}

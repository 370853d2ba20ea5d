package stillwatch.alerts.people;

import java.time.Clock;
import java.util.Map;
import stillwatch.ingest.entrance.BoundedMap;

/**
 * How often somebody tried to enter: after so many tries each further one has to wait, twice as
 * long as the one before, up to a minute; a quarter of an hour without a try forgets all. Tries are
 * counted before anything is done for them. Only so many names are remembered, the newest. Safe
 * from any thread.
 */
public final class Tries {
  private static final int KEPT = 10_000;
  private static final long FIRST_WAIT_MS = 1000;
  private static final long LONGEST_WAIT_MS = 60_000;
  private static final long FORGOTTEN_MS = 15 * 60_000;

  private final int free;
  private final Clock clock;
  private final Map<String, TryCount> byWhom = new BoundedMap<>(KEPT);

  private record TryCount(int count, long lastMs) {
    /** The moment from which one more may be made, ms since 1970 UTC. */
    long nextMs(int free) {
      int doublings = Math.min(count - free, 20);
      return doublings < 0
          ? lastMs
          : lastMs + Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS << doublings);
    }
  }

  /**
   * Counts tries.
   *
   * @param free how many tries need no waiting
   */
  public Tries(int free, Clock clock) {
    this.free = free;
    this.clock = clock;
  }

  /**
   * How long somebody must wait before they may try, ms; 0 when they may, and the try is counted.
   */
  public synchronized long waitMs(String whom) {
    long now = clock.millis();
    TryCount before = byWhom.get(whom);
    if (before == null || now - before.lastMs() > FORGOTTEN_MS) {
      byWhom.put(whom, new TryCount(1, now));
      return 0;
    }
    long waitMs = before.nextMs(free) - now;
    if (waitMs <= 0) {
      byWhom.put(whom, new TryCount(before.count() + 1, now));
    }
    return Math.max(0, waitMs);
  }

  /** The try last counted was right: it does not count. */
  public synchronized void right(String whom) {
    byWhom.computeIfPresent(
        whom, (w, t) -> t.count() == 1 ? null : new TryCount(t.count() - 1, t.lastMs()));
  }
}

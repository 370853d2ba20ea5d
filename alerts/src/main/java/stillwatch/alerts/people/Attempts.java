package stillwatch.alerts.people;

import java.time.Clock;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.Map;

/** How often somebody tried within the last while. Safe from any thread. */
public final class Attempts {
  private static final int KEPT = 10_000;

  private final int most;
  private final long withinMs;
  private final Clock clock;
  private final Map<String, Deque<Long>> byWhom = new HashMap<>();

  /**
   * Allows so many attempts within so long.
   *
   * @param most how many
   * @param withinMs how long, ms
   */
  public Attempts(int most, long withinMs, Clock clock) {
    this.most = most;
    this.withinMs = withinMs;
    this.clock = clock;
  }

  /** Whether one more is allowed; it is not counted by this. */
  public synchronized boolean allowed(String whom) {
    Deque<Long> times = byWhom.get(whom);
    return times == null || lately(times).size() < most;
  }

  private Deque<Long> lately(Deque<Long> times) {
    while (!times.isEmpty() && times.getFirst() <= clock.millis() - withinMs) {
      times.removeFirst();
    }
    return times;
  }

  /** Counts one. */
  public synchronized void count(String whom) {
    if (byWhom.size() > KEPT) {
      byWhom.values().removeIf(d -> lately(d).isEmpty());
    }
    byWhom.computeIfAbsent(whom, w -> new ArrayDeque<>()).addLast(clock.millis());
  }
}

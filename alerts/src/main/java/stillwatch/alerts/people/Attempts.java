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

  /** So many within so long. */
  public Attempts(int most, long withinMs, Clock clock) {
    this.most = most;
    this.withinMs = withinMs;
    this.clock = clock;
  }

  /** Whether one more is allowed; it counts when it is. */
  public synchronized boolean allowed(String whom) {
    long nowMs = clock.millis();
    if (byWhom.size() > KEPT) {
      byWhom.values().removeIf(d -> d.isEmpty() || d.getLast() < nowMs - withinMs);
    }
    Deque<Long> times = byWhom.computeIfAbsent(whom, w -> new ArrayDeque<>());
    while (!times.isEmpty() && times.getFirst() <= nowMs - withinMs) {
      times.removeFirst();
    }
    if (times.size() >= most) {
      return false;
    }
    times.addLast(nowMs);
    return true;
  }
}

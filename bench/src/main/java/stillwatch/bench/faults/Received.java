package stillwatch.bench.faults;

import java.util.Map;
import java.util.TreeMap;

/** What a route's peer got: each message by its id. Safe from any thread. */
final class Received {
  private final Map<String, int[]> messages = new TreeMap<>();

  /**
   * A message came.
   *
   * @param marked whether it says that it may have come before
   */
  synchronized void took(String id, boolean marked) {
    int[] counts = messages.computeIfAbsent(id, i -> new int[2]);
    counts[0]++;
    counts[1] += marked ? 0 : 1;
  }

  /** How often each came. */
  synchronized Map<String, Integer> delivered() {
    Map<String, Integer> all = new TreeMap<>();
    messages.forEach((id, counts) -> all.put(id, counts[0]));
    return all;
  }

  /** How many came more than once as if for the first time. */
  synchronized long unmarked() {
    return messages.values().stream().filter(counts -> counts[1] > 1).count();
  }
}

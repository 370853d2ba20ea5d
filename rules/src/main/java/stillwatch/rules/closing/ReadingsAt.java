package stillwatch.rules.closing;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * What each gauge of the shut-in pressure reads at one moment, taken once all of them have read
 * past it. Not thread-safe.
 */
final class ReadingsAt {
  /** So long the others wait for a gauge that says nothing (common practice, no source). */
  private static final long WAITS_MS = 120_000;

  private final long atMs;
  private final Map<String, Double> levels = new LinkedHashMap<>();
  private boolean taken;

  ReadingsAt(long atMs) {
    this.atMs = atMs;
  }

  long atMs() {
    return atMs;
  }

  /** Takes them when it is time; says whether they are taken. */
  boolean look(List<LevelHistory> histories) {
    if (taken) {
      return true;
    }
    long first = Long.MAX_VALUE;
    long last = Long.MIN_VALUE;
    for (LevelHistory h : histories) {
      first = Math.min(first, h.newestMs());
      last = Math.max(last, h.newestMs());
    }
    if (first < atMs && last < atMs + WAITS_MS) {
      return false;
    }
    histories.forEach(h -> levels.put(h.gauge().id(), h.at(atMs)));
    taken = true;
    return true;
  }

  /** By gauge, kPa, NaN for one that said nothing then; empty before they are taken. */
  Map<String, Double> levels() {
    return new LinkedHashMap<>(levels);
  }
}

package stillwatch.rules.closing;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** What the gauges read at each full hour after a shut-in. Not thread-safe. */
final class Hours {
  private static final long HOUR_MS = 3_600_000;

  /** Longer than any test; what comes later is compared with nothing. */
  private static final int MOST = 24 * 60;

  private final long shutInMs;
  private final Map<Integer, Map<String, Double>> read = new LinkedHashMap<>();
  private ReadingsAt next;
  private int hour = 1;

  Hours(long shutInMs) {
    this.shutInMs = shutInMs;
    next = new ReadingsAt(shutInMs + HOUR_MS);
  }

  /** Reads what it is time to read. */
  void look(List<LevelHistory> histories) {
    while (hour < MOST && next.look(histories)) {
      if (next.levels().values().stream().anyMatch(v -> !Double.isNaN(v))) {
        read.put(hour, next.levels());
      }
      hour++;
      next = new ReadingsAt(shutInMs + hour * HOUR_MS);
    }
  }

  /**
   * By hour since the shut-in, then by gauge, kPa; an hour of which nothing was read is left out.
   */
  Map<Integer, Map<String, Double>> read() {
    return new LinkedHashMap<>(read);
  }
}

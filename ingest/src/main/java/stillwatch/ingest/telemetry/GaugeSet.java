package stillwatch.ingest.telemetry;

import java.util.List;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;

/**
 * The gauges of a frame, in column order. Equal lists give the same instance, so readers may cache
 * what they know of a set by identity and never look a gauge up by name per reading. Safe from any
 * thread.
 */
public final class GaugeSet {
  private static final ConcurrentMap<List<String>, GaugeSet> KNOWN = new ConcurrentHashMap<>();

  private final List<String> ids;

  private GaugeSet(List<String> ids) {
    this.ids = ids;
  }

  /** The set of these ids, in this order; the same instance for equal lists. */
  public static GaugeSet of(List<String> ids) {
    GaugeSet known = KNOWN.get(ids);
    return known != null ? known : KNOWN.computeIfAbsent(List.copyOf(ids), GaugeSet::new);
  }

  /** The set of these ids, in this order. */
  public static GaugeSet of(String... ids) {
    return of(List.of(ids));
  }

  /** All ids in column order. */
  public List<String> ids() {
    return ids;
  }

  /** How many gauges. */
  public int size() {
    return ids.size();
  }

  @Override
  public String toString() {
    return ids.toString();
  }
}

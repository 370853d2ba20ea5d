package stillwatch.alerts.series;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import stillwatch.rules.plan.GaugePlan;

/** The extremes of every gauge over time, in bounded memory. Not thread-safe. */
final class GaugeTrails {
  /** Slots of time of all gauges, 16 bytes each; a gauge has between so many and so many. */
  private static final int SLOTS_OF_ALL = 4_194_304;

  private static final int SLOTS_AT_LEAST = 1024;
  private static final int SLOTS_AT_MOST = 16_384;

  private final Map<String, Extremes> extremes = new LinkedHashMap<>();

  GaugeTrails(List<GaugePlan> gauges) {
    gauges.forEach(g -> extremes.put(g.id(), new Extremes(slots(gauges.size()))));
  }

  private static int slots(int gauges) {
    return Math.min(SLOTS_AT_MOST, Math.max(SLOTS_AT_LEAST, SLOTS_OF_ALL / Math.max(1, gauges)));
  }

  /** How many bytes the trails of so many gauges take at most. */
  static long bytes(int gauges) {
    return 2L * Double.BYTES * slots(gauges) * gauges;
  }

  /** Takes a reading; one of a gauge that the plan does not have is left out. */
  void add(String gauge, long atMs, double value) {
    Extremes e = extremes.get(gauge);
    if (e != null) {
      e.add(atMs, value);
    }
  }

  /**
   * The extremes of these gauges over the last stretch of time.
   *
   * @param gauges ids of the plan
   * @param spanMs how far back from the newest reading; 0 for everything there is
   * @param atMost how many columns at most
   * @param elseMs where the columns begin when there is nothing
   */
  Columns columns(List<String> gauges, long spanMs, int atMost, long elseMs) {
    long fromMs = Long.MAX_VALUE;
    long toMs = Long.MIN_VALUE;
    long widthMs = 1000;
    for (String id : gauges) {
      Extremes e = extremes.get(id);
      if (e != null && !e.isEmpty()) {
        fromMs = Math.min(fromMs, e.fromMs());
        toMs = Math.max(toMs, e.toMs());
        widthMs = Math.max(widthMs, e.widthMs());
      }
    }
    Map<String, double[]> lows = new LinkedHashMap<>();
    Map<String, double[]> highs = new LinkedHashMap<>();
    if (toMs < fromMs) {
      return new Columns(elseMs, widthMs, lows, highs);
    }
    fromMs = spanMs > 0 ? Math.max(fromMs, toMs - spanMs) : fromMs;
    long columnMs = Math.max(1, ceilDiv(toMs - fromMs, atMost * widthMs)) * widthMs;
    fromMs = Math.floorDiv(fromMs, columnMs) * columnMs;
    int columns = (int) ceilDiv(toMs - fromMs, columnMs);
    for (String id : gauges) {
      Extremes e = extremes.get(id);
      if (e != null) {
        double[] low = new double[columns];
        double[] high = new double[columns];
        e.columns(fromMs, columnMs, low, high);
        lows.put(id, low);
        highs.put(id, high);
      }
    }
    return new Columns(fromMs, columnMs, lows, highs);
  }

  private static long ceilDiv(long a, long b) {
    return -Math.floorDiv(-a, b);
  }
}

package stillwatch.alerts.report;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import stillwatch.alerts.series.Columns;
import stillwatch.rules.plan.GaugePlan;

/** The gauges of the shut-in pressure, and their course by columns of time. */
final class ShutInGauges {
  private static final int COLUMNS = 2000;

  private final List<GaugePlan> gauges;
  private final Columns columns;

  ShutInGauges(ReportParts parts) {
    gauges =
        parts.plan().gauges().stream().filter(g -> g.role() == GaugePlan.Role.SHUT_IN).toList();
    columns =
        cut(
            parts.picture().columns(gauges.stream().map(GaugePlan::id).toList(), 0, COLUMNS),
            parts.stretch());
  }

  /** The columns that lie in a stretch. */
  private static Columns cut(Columns all, Stretch part) {
    int n = all.lows().values().stream().mapToInt(v -> v.length).max().orElse(0);
    if (part.whole() || n == 0) {
      return all;
    }
    long endMs = all.fromMs() + n * all.columnMs();
    int from =
        (int)
            Math.floorDiv(
                Math.min(Math.max(part.fromMs(), all.fromMs()), endMs) - all.fromMs(),
                all.columnMs());
    int to =
        (int)
            -Math.floorDiv(
                all.fromMs() - Math.min(Math.max(part.toMs(), all.fromMs()), endMs),
                all.columnMs());
    return new Columns(
        all.fromMs() + from * all.columnMs(),
        all.columnMs(),
        cut(all.lows(), from, to),
        cut(all.highs(), from, to));
  }

  private static Map<String, double[]> cut(Map<String, double[]> values, int from, int to) {
    Map<String, double[]> part = new LinkedHashMap<>();
    values.forEach(
        (gauge, v) ->
            part.put(
                gauge, Arrays.copyOfRange(v, Math.min(from, v.length), Math.min(to, v.length))));
    return part;
  }

  /** The last column that has a value in the ten minutes up to a time; NaN where none has. */
  double near(GaugePlan g, long ms) {
    for (long at = ms; at > ms - 600_000; at -= columns.columnMs()) {
      double value = at(g, at);
      if (!Double.isNaN(value)) {
        return value;
      }
    }
    return Double.NaN;
  }

  /** In the plan's order. */
  List<GaugePlan> gauges() {
    return gauges;
  }

  /** Their lowest and highest values, kPa. */
  Columns columns() {
    return columns;
  }

  /** The middle of the column at a time; NaN where there is none. */
  double at(GaugePlan g, long ms) {
    double[] low = columns.lows().getOrDefault(g.id(), new double[0]);
    double[] high = columns.highs().getOrDefault(g.id(), new double[0]);
    long c = Math.floorDiv(ms - columns.fromMs(), columns.columnMs());
    return c < 0 || c >= low.length ? Double.NaN : (low[(int) c] + high[(int) c]) / 2;
  }
}

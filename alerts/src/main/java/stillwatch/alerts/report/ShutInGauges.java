package stillwatch.alerts.report;

import java.util.List;
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
    columns = parts.picture().columns(gauges.stream().map(GaugePlan::id).toList(), 0, COLUMNS);
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

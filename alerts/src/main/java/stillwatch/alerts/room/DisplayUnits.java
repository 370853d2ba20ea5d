package stillwatch.alerts.room;

import stillwatch.ingest.unit.Conversion;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.Units;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;

/** The units that the plan displays. */
final class DisplayUnits {
  private final Plan plan;

  DisplayUnits(Plan plan) {
    this.plan = plan;
  }

  /** Decimals that show a gauge's resolution in its display unit, at most four. */
  int decimals(GaugePlan g) {
    double step =
        (g.resolution() > 0 ? g.resolution() : g.accuracy() / 10) / conversion(g.kind()).factor();
    return (int) Math.max(0, Math.min(4, Math.ceil(-Math.log10(step) - 1e-9)));
  }

  /** The unit of a kind. */
  String unit(Kind kind) {
    return plan.display().getOrDefault(kind, kind.baseUnit());
  }

  /** From the base unit into the one displayed, and back. */
  Conversion conversion(Kind kind) {
    return Units.of(kind, unit(kind));
  }
}

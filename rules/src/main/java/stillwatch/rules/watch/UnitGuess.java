package stillwatch.rules.watch;

import java.util.List;
import java.util.Locale;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.Units;

/**
 * Whether a gauge reads as if in another unit: its readings stand to where it was, or to another
 * gauge of the well, in the ratio of two units of pressure. A well does not fall to a seventh
 * within a reading.
 */
final class UnitGuess {
  private static final List<String> UNITS =
      List.of("Pa", "kPa", "MPa", "bar", "mbar", "[psi]", "kgf/cm2", "atm");

  /** kPa in one; the plan's units do not have it (NIST SP 811, 2008, appendix B.8). */
  private static final double KGF_PER_CM2 = 98.0665;

  private static final double WITHIN = 0.005;

  private UnitGuess() {}

  /** The unit it seems to speak; empty when its own. */
  static String of(WatchedGauge g, List<WatchedGauge> shutIn, long nowMs) {
    double change = g.track.waitingChange();
    double reading = g.track.lastReading();
    if (Double.isNaN(change) && !g.track.outOfRange()) {
      return "";
    }
    double was = g.track.level();
    String unit = ratio(reading / was, g.plan.unit());
    if (!unit.isEmpty()) {
      return unit;
    }
    for (WatchedGauge other : shutIn) {
      if (other != g && other.trusted() && other.fresh(nowMs)) {
        unit = ratio(reading / other.track.level(), g.plan.unit());
        if (!unit.isEmpty()) {
          return unit;
        }
      }
    }
    return "";
  }

  private static String ratio(double ratio, String own) {
    double ownKPa = kPa(own);
    for (String unit : UNITS) {
      double expected = ownKPa / kPa(unit); // a value in that unit, read as if it were in its own
      if (!unit.equals(own)
          && Math.abs(expected - 1) > 0.05
          && Math.abs(ratio / expected - 1) < WITHIN) {
        return unit.replace("[", "").replace("]", "").toLowerCase(Locale.ROOT);
      }
    }
    return "";
  }

  private static double kPa(String unit) {
    return unit.equals("kgf/cm2") ? KGF_PER_CM2 : Units.of(Kind.PRESSURE, unit).factor();
  }
}

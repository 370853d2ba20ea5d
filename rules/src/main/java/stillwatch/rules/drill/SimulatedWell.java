package stillwatch.rules.drill;

import java.util.ArrayList;
import java.util.List;

/**
 * The truth of a scenario: the pressure at the wellhead second by second, without any gauge. Not
 * thread-safe.
 */
final class SimulatedWell {
  private static final double KPA_PER_METRE_OF_SEA = 10.05;

  /** An outlet that is turned slowly changes the rate so often: the well takes as long to fill. */
  private static final double TURN_HOURS = 15 / 3600.0;

  /**
   * Degrees an hour: M2, S2, K1, O1 (NOAA harmonic constituents); amplitudes in metres are
   * invented.
   */
  private static final double[][] TIDE = {
    {28.9841042, 0.6}, {30.0, 0.2}, {15.0410686, 0.15}, {13.9430356, 0.1}
  };

  private final Scenario.Well well;
  private final List<Scenario.Step> steps;
  private final Scenario.@org.jspecify.annotations.Nullable Leak leak;
  private final LineSource source;
  private double filled = Double.NaN;
  private double leakSinceHours = Double.NaN;
  private double leakRate;

  SimulatedWell(Scenario scenario) {
    well = scenario.well();
    steps = turned(scenario.steps());
    leak = scenario.leak();
    source = new LineSource(well.slopePerCycle(), well.xHours());
  }

  /** The same steps, those that take their time in small ones. */
  private static List<Scenario.Step> turned(List<Scenario.Step> steps) {
    List<Scenario.Step> small = new ArrayList<>();
    double rate = 1;
    for (Scenario.Step step : steps) {
      Double over = step.over();
      int parts = over == null ? 1 : Math.max(1, (int) Math.round(over / TURN_HOURS));
      for (int i = 1; i <= parts; i++) {
        double at = over == null ? step.at() : step.at() + over * (i - 1) / parts;
        double share = i == parts ? step.rate() : rate + (step.rate() - rate) * i / parts;
        small.add(new Scenario.Step(at, share, step.text(), null));
      }
      rate = step.rate();
    }
    return small;
  }

  /** The absolute pressure in the capping assembly, kPa; call with hours in steps of one second. */
  double pressure(double hours) {
    double target = leaking(hours, closed(hours));
    filled =
        Double.isNaN(filled)
            ? target
            : filled + (target - filled) * (1 - StrictMath.exp(-1 / well.fillSeconds()));
    return filled - sag(hours) + well.tideShare() * tide(hours);
  }

  /** The pressure at this time had there been no leak and no filling. */
  private double closed(double hours) {
    double rate = 1;
    double p = well.finalPressure() - source.perUnitRate(well.flowedHours() + hours);
    for (Scenario.Step step : steps) {
      if (step.at() < hours) {
        p += (rate - step.rate()) * source.perUnitRate(hours - step.at());
        rate = step.rate();
      }
    }
    return p - well.chokeLoss() * rate * rate;
  }

  private double leaking(double hours, double without) {
    Scenario.Leak l = leak;
    leakRate = 0;
    if (l == null || hours < l.at() || (Double.isNaN(leakSinceHours) && without <= l.pressure())) {
      return without;
    }
    if (Double.isNaN(leakSinceHours)) {
      leakSinceHours = hours;
    }
    Double fastAt = l.fastAt();
    Double fastSize = l.fastSize();
    double size =
        fastAt != null && fastSize != null && hours >= fastAt
            ? fastSize * (1 + l.growthPerHour() * (hours - fastAt))
            : l.size() * (1 + l.growthPerHour() * (hours - leakSinceHours));
    double drawdown = source.perUnitRate(hours - leakSinceHours + 1 / 3600.0);
    double excess = Math.max(0, without - l.pressure());
    if (l.to().equals("rock")) {
      leakRate = size * excess / (1 + size * drawdown);
    } else {
      double b = drawdown * size;
      leakRate = size * (Math.sqrt(b * b + 4 * excess) - b) / 2;
    }
    return without - drawdown * leakRate;
  }

  /** The leak's rate at the last time asked, as a share of the flowing rate. */
  double leakRate() {
    return leakRate;
  }

  private double sag(double hours) {
    double shut = Double.POSITIVE_INFINITY;
    for (Scenario.Step step : steps) {
      if (step.at() < hours) {
        shut = step.rate() == 0 ? step.at() : Double.POSITIVE_INFINITY;
      }
    }
    return hours <= shut ? 0 : well.sag() * (1 - StrictMath.exp(-(hours - shut) / well.sagHours()));
  }

  /** The absolute pressure of the sea at the wellhead, kPa. */
  double sea(double hours) {
    return well.sea() + tide(hours);
  }

  private static double tide(double hours) {
    double kPa = 0;
    for (double[] constituent : TIDE) {
      kPa +=
          KPA_PER_METRE_OF_SEA
              * constituent[1]
              * StrictMath.cos(StrictMath.toRadians(constituent[0] * hours));
    }
    return kPa;
  }
}

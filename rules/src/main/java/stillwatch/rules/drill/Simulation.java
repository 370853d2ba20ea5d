package stillwatch.rules.drill;

import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/**
 * A scenario second by second: when each row is stamped and arrives, what every gauge shows, what
 * somebody does. Not thread-safe.
 */
final class Simulation {
  private final Scenario scenario;
  private final SimulatedWell well;
  private final List<SimulatedGauge> gauges = new ArrayList<>();
  private final double[] values;
  private final long startMs;
  private final long rows;
  private long second = -1;

  /**
   * A simulation that has not begun.
   *
   * @throws DrillException when the scenario's start is no time
   */
  Simulation(Scenario scenario) {
    this.scenario = scenario;
    well = new SimulatedWell(scenario);
    for (Scenario.Gauge g : scenario.gauges()) {
      gauges.add(new SimulatedGauge(g, scenario.seed()));
    }
    values = new double[gauges.size()];
    rows = Math.round(scenario.hours() * 3600);
    try {
      startMs = Instant.parse(scenario.start()).toEpochMilli();
    } catch (DateTimeException e) {
      throw new DrillException(
          "start '" + scenario.start() + "' is not written like 2026-03-01T06:00:00Z", e);
    }
  }

  long rows() {
    return rows;
  }

  long startMs() {
    return startMs;
  }

  /** Goes on by a second; false at the end. */
  boolean next() {
    if (second + 1 >= rows) {
      return false;
    }
    second++;
    double hours = second / 3600.0;
    double pressure = well.pressure(hours);
    for (int i = 0; i < values.length; i++) {
      SimulatedGauge g = gauges.get(i);
      values[i] =
          g.speaks(second, hours)
              ? g.show(Drill.truth(scenario, well, g.gauge().senses(), pressure, hours), hours)
              : Double.NaN;
    }
    return true;
  }

  /** What the gauges show now, in the scenario's order; NaN where one says nothing. */
  double[] values() {
    return values.clone();
  }

  /** When the row is stamped. */
  long atMs() {
    return startMs + second * 1000;
  }

  /** When the row arrives: at once, or at the end of the burst it belongs to. */
  long receivedMs() {
    double hours = second / 3600.0;
    long received = atMs();
    for (Scenario.Event e : scenario.around()) {
      Double to = e.to();
      if (e.what().equals("burst") && to != null && hours >= e.from() && hours < to) {
        received = startMs + Math.round(to * 3600) * 1000;
      }
    }
    return received;
  }

  /**
   * What somebody does, sees or decides now, as the operation column tells it; empty for nothing.
   */
  String happening() {
    double before = 1;
    for (Scenario.Step step : scenario.steps()) {
      if (Math.round(step.at() * 3600) == second) {
        return (step.rate() > before ? "opening-step: " : "closure-step: ") + step.text();
      }
      before = step.rate();
    }
    for (Scenario.Event e : scenario.around()) {
      if (e.text() != null && Math.round(e.from() * 3600) == second) {
        return e.text();
      }
    }
    return "";
  }
}

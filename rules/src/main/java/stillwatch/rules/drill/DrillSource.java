package stillwatch.rules.drill;

import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.recording.EventCell;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;

/**
 * A scenario as a log, without a recording between: a frame a second, a pulse at each second of
 * reception, operations where they fall. The scenario's gauges must speak the base units of their
 * kinds. Not thread-safe.
 */
public final class DrillSource implements TelemetrySource {
  private final String well;
  private final Simulation simulation;
  private final GaugeSet set;
  private final Deque<Telemetry> ready = new ArrayDeque<>();
  private long receivedMs;

  /**
   * The log of a scenario, for the well with that id.
   *
   * @throws DrillException when the scenario cannot be used
   */
  public DrillSource(Scenario scenario, String well) {
    this.well = well;
    simulation = new Simulation(scenario);
    Drill.check(scenario);
    set = GaugeSet.of(scenario.gauges().stream().map(Scenario.Gauge::id).toArray(String[]::new));
    receivedMs = simulation.startMs();
  }

  @Override
  public @Nullable Telemetry next() {
    while (ready.isEmpty() && simulation.next()) {
      row();
    }
    return ready.poll();
  }

  private void row() {
    long toMs = Math.max(receivedMs, simulation.receivedMs());
    for (long t = (receivedMs / 1000 + 1) * 1000; t <= toMs; t += 1000) {
      ready.add(new Pulse(well, t, t));
    }
    receivedMs = toMs;
    String happening = simulation.happening();
    if (!happening.isEmpty()) {
      ready.add(EventCell.read(happening, well, simulation.atMs(), receivedMs));
    }
    double[] values = simulation.values();
    if (!Arrays.stream(values).allMatch(Double::isNaN)) {
      ready.add(Frame.good(well, simulation.atMs(), receivedMs, set, values));
    }
  }

  @Override
  public void close() {
    // holds nothing
  }
}

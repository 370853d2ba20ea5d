package stillwatch.rules.drill;

import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.recording.Happening;
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
  private final Scenario scenario;
  private final String well;
  private final SimulatedWell truth;
  private final List<SimulatedGauge> gauges = new ArrayList<>();
  private final GaugeSet set;
  private final long startMs;
  private final long rows;
  private final Deque<Telemetry> ready = new ArrayDeque<>();
  private long second;
  private long receivedMs;

  /** The log of a scenario, for the well with that id. */
  public DrillSource(Scenario scenario, String well) {
    this.scenario = scenario;
    this.well = well;
    truth = new SimulatedWell(scenario);
    for (Scenario.Gauge g : scenario.gauges()) {
      gauges.add(new SimulatedGauge(g, scenario.seed()));
    }
    set = GaugeSet.of(scenario.gauges().stream().map(Scenario.Gauge::id).toArray(String[]::new));
    startMs = Instant.parse(scenario.start()).toEpochMilli();
    receivedMs = startMs;
    rows = Math.round(scenario.hours() * 3600);
  }

  @Override
  public @Nullable Telemetry next() {
    while (ready.isEmpty() && second < rows) {
      row();
    }
    return ready.poll();
  }

  private void row() {
    double hours = second / 3600.0;
    long atMs = startMs + second * 1000;
    long toMs = Math.max(receivedMs, Drill.receivedMs(scenario, startMs, atMs, hours));
    for (long t = (receivedMs / 1000 + 1) * 1000; t <= toMs; t += 1000) {
      ready.add(new Pulse(well, t, t));
    }
    receivedMs = toMs;
    String happening = Drill.operation(scenario, second);
    if (!happening.isEmpty()) {
      ready.add(Happening.read(happening, well, atMs, receivedMs));
    }
    double pressure = truth.pressure(hours);
    double[] values = new double[gauges.size()];
    boolean any = false;
    for (int i = 0; i < values.length; i++) {
      SimulatedGauge g = gauges.get(i);
      values[i] =
          g.speaks(second, hours)
              ? g.show(Drill.truth(scenario, truth, g.gauge().senses(), pressure, hours), hours)
              : Double.NaN;
      any |= !Double.isNaN(values[i]);
    }
    if (any) {
      ready.add(Frame.good(well, atMs, receivedMs, set, values));
    }
    second++;
  }

  @Override
  public void close() {
    // holds nothing
  }
}

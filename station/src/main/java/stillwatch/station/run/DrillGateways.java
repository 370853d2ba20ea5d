package stillwatch.station.run;

import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.door.StandIn;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.unit.Units;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;
import stillwatch.station.option.InputException;

/**
 * Stand-ins for the other sides of a plan's sources. Their gauges say what a recording has, at
 * life's speed: what is read from them is stamped by clocks of this machine, so that at another
 * speed every rate would be wrong. One thread runs it.
 */
public final class DrillGateways implements Runnable, AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(DrillGateways.class);

  private final TelemetrySource recording;
  private final long fromMs;
  private final Map<String, GaugePlan> gauges = new HashMap<>();
  private final List<StandIn> standIns = new ArrayList<>();
  private final Moments moments = new Moments();
  private volatile boolean over;

  private DrillGateways(Plan plan, TelemetrySource recording, Instant from) {
    this.recording = recording;
    fromMs = from.toEpochMilli();
    plan.gauges().forEach(g -> gauges.put(g.id(), g));
  }

  /**
   * Opens a stand-in for each of the plan's sources that has one.
   *
   * @param from the moment of the recording with which they begin
   * @throws InputException when one cannot listen
   */
  public static DrillGateways open(Plan plan, TelemetrySource recording, Instant from) {
    DrillGateways made = new DrillGateways(plan, recording, from);
    try {
      for (SourcePlan source : plan.sources()) {
        if (source.way() instanceof SourcePlan.Brought brought) {
          brought.standIn().ifPresent(made.standIns::add);
        }
      }
      return made;
    } catch (IOException e) {
      made.close();
      throw new InputException(String.valueOf(e.getMessage()));
    }
  }

  @Override
  public void run() {
    try {
      say();
    } catch (IOException | RuntimeException e) { // the page says that no readings come
      LOG.error("the gateways of the drill stopped: {}", e.getMessage());
    }
  }

  private void say() throws IOException {
    Telemetry entry = recording.next();
    for (;
        entry != null && entry.receivedMs() < fromMs && !moments.ended();
        entry = recording.next()) {
      say(entry);
    }
    long startNs = System.nanoTime();
    while (entry != null && moments.reach(startNs + (entry.receivedMs() - fromMs) * 1_000_000)) {
      say(entry);
      entry = recording.next();
    }
    over = entry == null;
  }

  /** Says the readings of an entry; what people did no gateway says. */
  private void say(Telemetry entry) {
    if (!(entry instanceof Frame frame)) {
      return;
    }
    for (int i = 0; i < frame.gauges().size(); i++) {
      GaugePlan gauge = gauges.get(frame.gauges().ids().get(i));
      if (gauge != null && !Double.isNaN(frame.values()[i])) {
        say(gauge, frame.values()[i], Quality.of(frame.qualities()[i]));
      }
    }
  }

  private void say(GaugePlan gauge, double base, Quality quality) {
    for (StandIn standIn : standIns) {
      standIn
          .unit(gauge.id())
          .map(unit -> Units.of(gauge.kind(), unit.isEmpty() ? gauge.unit() : unit))
          .ifPresent(unit -> standIn.says(gauge.id(), unit.fromBase(base), quality));
    }
  }

  /** Whether the recording has nothing more. */
  public boolean over() {
    return over;
  }

  @Override
  public void close() {
    moments.end();
    standIns.forEach(StandIn::close);
  }
}

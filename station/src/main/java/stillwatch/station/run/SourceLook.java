package stillwatch.station.run;

import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Clock;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentHashMap;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.door.Inlet;
import stillwatch.ingest.door.Source;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.intake.Intake;
import stillwatch.ingest.intake.IntakeWell;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.Resent;
import stillwatch.ingest.intake.Senders;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.wire.TelemetryCodec;

/**
 * What a source says for a while, taken as a watch takes it and kept nowhere but here: the newest
 * reading of each gauge.
 */
public final class SourceLook implements AutoCloseable {
  private static final long PATIENCE_MS = 2000;

  private final SourcePlan plan;
  private final Intake intake;
  private final Inlet inlet;
  private final Source source;
  private final Thread thread;
  private final Map<String, Newest> newest = new ConcurrentHashMap<>();

  /**
   * The newest reading of a gauge.
   *
   * @param atMs when it was so, ms since 1970 UTC
   * @param base in the base unit of the gauge's kind; NaN where it has none
   */
  public record Newest(long atMs, double base, Quality quality) {}

  /**
   * Begins it.
   *
   * @param well what the intake of a watch knows of the plan
   * @param folder where the source may keep what it must know; nothing of it there yet
   */
  public SourceLook(IntakeWell well, SourcePlan plan, Trust trust, Path folder) {
    this.plan = plan;
    intake =
        new Intake(
            List.of(well), new Here(), new Here(), 0, Clock.systemUTC(), new SimpleMeterRegistry());
    inlet =
        new Inlet(
            well.id(),
            plan.name(),
            new Reception(intake, Senders.nobody()),
            new Resent(List::of),
            folder);
    source = Source.of(new SourcePlan(plan.name(), plan.way().looking()), inlet, trust);
    thread = new Thread(source, "look at " + plan.name());
    thread.setDaemon(true);
    thread.start();
  }

  /** The source's name. */
  public String name() {
    return plan.name();
  }

  /** The gauges that the plan says of it. */
  public List<String> gauges() {
    return plan.way().gauges();
  }

  /** What the gauge has said last; empty when nothing came. */
  public Optional<Newest> newest(String gauge) {
    return Optional.ofNullable(newest.get(gauge));
  }

  /** How the source is. */
  public SourceHealth.State state() {
    return inlet.health().state();
  }

  /** Whether the newest of every gauge is good. */
  public boolean good() {
    return gauges().stream()
        .allMatch(id -> newest(id).filter(n -> n.quality() == Quality.GOOD).isPresent());
  }

  /**
   * What the other side offers, a line each.
   *
   * @throws IOException when it does not say, in a sentence
   */
  public List<String> offers() throws IOException {
    return plan.way() instanceof SourcePlan.Brought b ? b.offers() : List.of();
  }

  @Override
  public void close() {
    source.close();
    try {
      thread.join(PATIENCE_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    intake.close();
  }

  /** Keeps the newest of what would go to the log. */
  private final class Here implements TopicWriter {
    private final TelemetryCodec codec = new TelemetryCodec();

    @Override
    public CompletableFuture<Void> append(Message message) {
      if (codec.decode(message) instanceof Frame f) {
        for (int i = 0; i < f.gauges().size(); i++) {
          newest.merge(
              f.gauges().ids().get(i),
              new Newest(f.atMs(), f.values()[i], Quality.of(f.qualities()[i])),
              (old, now) -> now.atMs() < old.atMs() ? old : now);
        }
      }
      return CompletableFuture.completedFuture(null);
    }

    @Override
    public void flush() {}

    @Override
    public void close() {}
  }
}

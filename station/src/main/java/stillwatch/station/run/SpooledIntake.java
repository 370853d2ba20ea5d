package stillwatch.station.run;

import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.disk.Disk;
import stillwatch.ingest.intake.Intake;
import stillwatch.ingest.intake.IntakeWell;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.Senders;
import stillwatch.ingest.spool.Spool;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;

/** An intake whose telemetry is on this machine's disk before it is acknowledged. */
public final class SpooledIntake implements AutoCloseable {
  private static final long RENEW_BYTES = 8 << 20;
  private static final int END_OF_LOG = 50_000;
  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final Intake intake;
  private final Path folder;
  private final Disk disk;
  private final Bus bus;
  private final Spool log;
  private final MeterRegistry meters;

  /**
   * Opens it.
   *
   * @param folder keeps what the broker has not taken yet
   * @param disk the disk of that folder: while it is full, nothing is taken
   * @param makeTopics called before the broker is asked what it has
   */
  public SpooledIntake(
      Path folder, Disk disk, Bus bus, List<IntakeWell> wells, Runnable makeTopics, Metrics metrics)
      throws IOException {
    this.disk = disk;
    this.folder = folder;
    Spool rejects = Spool.open(folder.resolve("rejects"), bus, Topics.REJECTS, RENEW_BYTES);
    this.bus = bus;
    meters = metrics.registry();
    log = Spool.open(folder.resolve("telemetry"), bus, Topics.TELEMETRY, RENEW_BYTES);
    Gauge.builder("stillwatch.spool.waiting", () -> log.waiting() + rejects.waiting())
        .description("messages that the broker does not have yet")
        .register(metrics.registry());
    intake =
        new Intake(
            wells,
            log,
            rejects,
            newestMs(log, bus, wells, makeTopics),
            Clock.systemUTC(),
            metrics.registry());
  }

  /** What takes telemetry for it from these senders, by HTTP. */
  public Reception reception(Senders senders) {
    Reception made = new Reception(intake, senders, disk::full);
    SourceMeters.bind(Reception.SOURCE, made::state, meters);
    return made;
  }

  /** What takes it from sources of this process. */
  Reception inside() {
    return new Reception(intake, Senders.nobody(), disk::full);
  }

  /** Where sources keep how far they have come, beside what they gave. */
  Path sourcesFolder() {
    return folder.resolve("sources");
  }

  /**
   * The end of the log, once everything that the spool had is in it.
   *
   * @throws IllegalStateException when the broker does not have all of it soon
   */
  public List<Telemetry> newest() {
    long until = System.nanoTime() + PATIENCE.toNanos();
    while (log.waiting() > 0) {
      if (System.nanoTime() > until) {
        throw new IllegalStateException(
            "the broker does not have yet what was taken before; the source is opened when it has");
      }
      LockSupport.parkNanos(Duration.ofMillis(10).toNanos());
    }
    TelemetryCodec codec = new TelemetryCodec();
    return bus.newest(Topics.TELEMETRY, END_OF_LOG).stream().map(codec::decode).toList();
  }

  /**
   * The reception time of what the log has. Only a spool that has kept something before can tell it
   * without the broker.
   */
  private static long newestMs(Spool log, Bus bus, List<IntakeWell> wells, Runnable makeTopics) {
    Optional<Message> newest = log.newest();
    if (newest.isPresent() && bus.fault(Duration.ofSeconds(3)).isPresent()) {
      return new TelemetryCodec().decode(newest.get()).receivedMs();
    }
    makeTopics.run();
    return Math.max(
        newest.map(m -> new TelemetryCodec().decode(m).receivedMs()).orElse(0L),
        Intake.newestMs(bus, wells));
  }

  @Override
  public void close() {
    intake.close();
  }
}

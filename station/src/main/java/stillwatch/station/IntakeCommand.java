package stillwatch.station;

import io.micrometer.core.instrument.Gauge;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.entrance.Limits;
import stillwatch.ingest.intake.Door;
import stillwatch.ingest.intake.Intake;
import stillwatch.ingest.intake.IntakeWell;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.Senders;
import stillwatch.ingest.spool.Spool;
import stillwatch.ingest.wire.TelemetryCodec;

/** The intake alone. */
@Command(
    name = "intake",
    mixinStandardHelpOptions = true,
    description =
        "Takes telemetry by HTTP into a broker's log, and nothing else; while the broker is away, it keeps it on disk. Run one for each well.",
    footer = {"", Cautions.TEXT})
final class IntakeCommand implements Callable<Integer> {
  private static final long RENEW_BYTES = 8 << 20;

  @Mixin private PlansOption plans = new PlansOption();
  @Mixin private BrokerOption broker = new BrokerOption();
  @Mixin private ListenOption listen = new ListenOption();

  @Mixin private TokensOption tokens = new TokensOption();

  @Option(
      names = "--open",
      description =
          "Takes telemetry from everybody on this machine, without a token; on this machine's own address only.")
  private boolean open;

  @Option(
      names = "--spool",
      paramLabel = "DIR",
      description =
          "The folder that keeps what the broker has not taken yet. Default: stillwatch-spool.")
  private Path folder = Path.of("stillwatch-spool");

  @Override
  public Integer call() throws IOException {
    List<IntakeWell> wells =
        plans.load().stream().map(watched -> PlanOption.intake(watched.plan())).toList();
    Senders senders = senders();
    Ending ending = new Ending();
    try {
      run(wells, senders, ending);
    } catch (RuntimeException | IOException e) {
      ending.end();
      throw e;
    }
    return 0;
  }

  private Senders senders() {
    if (open && !listen.loopback()) {
      throw new InputException(
          "an intake that asks for no token listens on 127.0.0.1 only; leave out --bind, or give --tokens FILE in place of --open");
    }
    return open
        ? Senders.everybody()
        : tokens
            .senders()
            .orElseThrow(
                () ->
                    new InputException(
                        "who may send telemetry? Give --tokens FILE, or --open for everybody on this machine"));
  }

  private void run(List<IntakeWell> wells, Senders senders, Ending ending) throws IOException {
    Metrics metrics = new Metrics();
    Bus bus = ending.closes(broker.later());
    Path taken = ending.closes(DataFolder.take(folder, "--spool")).path();
    Spool rejects = Spool.open(taken.resolve("rejects"), bus, Topics.REJECTS, RENEW_BYTES);
    Spool log = Spool.open(taken.resolve("telemetry"), bus, Topics.TELEMETRY, RENEW_BYTES);
    Gauge.builder("stillwatch.spool.waiting", () -> log.waiting() + rejects.waiting())
        .description("messages that the broker does not have yet")
        .register(metrics.registry());
    Intake intake =
        ending.closes(
            new Intake(
                wells,
                log,
                rejects,
                newestMs(log, bus, wells),
                Clock.systemUTC(),
                metrics.registry()));
    Door door =
        ending.closes(
            listen.first(
                address ->
                    new Door(
                        address,
                        Limits.USUAL,
                        new Reception(intake, senders),
                        metrics::text,
                        () -> bus.fault(Duration.ofSeconds(3)).isEmpty())));
    System.out.println(
        "Stillwatch takes telemetry of "
            + String.join(", ", wells.stream().map(IntakeWell::id).toList())
            + " at "
            + listen.url(door.port()));
    System.out.println(
        "What the broker has not taken is kept in "
            + folder.toAbsolutePath()
            + ". Ctrl-C ends it.");
    ending.await();
  }

  /**
   * The reception time of what the log has. Only a spool that has kept something before can tell it
   * without the broker.
   */
  private long newestMs(Spool log, Bus bus, List<IntakeWell> wells) {
    Optional<Message> newest = log.newest();
    if (newest.isPresent() && bus.fault(Duration.ofSeconds(3)).isPresent()) {
      return new TelemetryCodec().decode(newest.get()).receivedMs();
    }
    broker.makeTopics(bus);
    return Math.max(
        newest.map(m -> new TelemetryCodec().decode(m).receivedMs()).orElse(0L),
        Intake.newestMs(bus, wells));
  }
}

package stillwatch.station.command;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.disk.Disk;
import stillwatch.ingest.entrance.Limits;
import stillwatch.ingest.intake.Door;
import stillwatch.ingest.intake.IntakeWell;
import stillwatch.ingest.intake.OnThisMachine;
import stillwatch.ingest.intake.Senders;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.service.RulesService.WatchedWell;
import stillwatch.station.option.BrokerOption;
import stillwatch.station.option.InputException;
import stillwatch.station.option.ListenOption;
import stillwatch.station.option.MetricsOption;
import stillwatch.station.option.PlansOption;
import stillwatch.station.option.TokensOption;
import stillwatch.station.option.TrustOption;
import stillwatch.station.output.Cautions;
import stillwatch.station.run.DataFolder;
import stillwatch.station.run.DiskMeters;
import stillwatch.station.run.Lookouts;
import stillwatch.station.run.Metrics;
import stillwatch.station.run.Shutdown;
import stillwatch.station.run.SpooledIntake;
import stillwatch.station.run.Stage;

/** The intake alone. */
@Command(
    name = "intake",
    mixinStandardHelpOptions = true,
    description =
        "Takes telemetry by HTTP into a broker's log, and nothing else; while the broker is away, it keeps it on disk. Run one for each well.",
    footer = {"", Cautions.TEXT})
public final class IntakeCommand implements Callable<Integer> {
  @Mixin private PlansOption plans = new PlansOption();
  @Mixin private BrokerOption broker = new BrokerOption();
  @Mixin private ListenOption listen = new ListenOption();

  @Mixin private MetricsOption telling = new MetricsOption();
  @Mixin private TrustOption trust = new TrustOption();
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
    List<Plan> read = plans.load().stream().map(WatchedWell::plan).toList();
    List<IntakeWell> wells = read.stream().map(Plan::intake).toList();
    Senders senders = senders(read.stream().allMatch(Plan::openTelemetry));
    Shutdown shutdown = new Shutdown();
    try {
      run(wells, senders, shutdown);
    } catch (RuntimeException | IOException e) {
      shutdown.end();
      throw e;
    }
    return 0;
  }

  private Senders senders(boolean openByPlans) {
    if (open && !listen.loopback()) {
      throw new InputException(
          "an intake that asks for no token listens on 127.0.0.1 only; leave out --bind, or give --tokens FILE in place of --open");
    }
    if (openByPlans && !open) {
      return new OnThisMachine(tokens.senders().orElse(Senders.nobody()));
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

  private void run(List<IntakeWell> wells, Senders senders, Shutdown shutdown) throws IOException {
    Metrics metrics = shutdown.closes(new Metrics(telling.receiver(), trust.outgoing()));
    Bus bus = shutdown.closes(broker.later());
    Path taken = shutdown.closes(DataFolder.take(folder, "--spool")).path();
    Disk disk = new Disk(taken, () -> System.nanoTime() / 1_000_000);
    DiskMeters.bind(disk, metrics.registry());
    Map<String, String> broken = new ConcurrentHashMap<>();
    shutdown.closes(
        Stage.start("disk", () -> Lookouts.disk(disk, () -> {}), Stage.Listener.into(broken)));
    shutdown.closes(
        Stage.start("broker", () -> Lookouts.broker(bus, broken), Stage.Listener.into(broken)));
    SpooledIntake intake =
        shutdown.closes(
            new SpooledIntake(taken, disk, bus, wells, () -> broker.makeTopics(bus), metrics));
    Door door =
        shutdown.closes(
            listen.first(
                address ->
                    new Door(
                        address,
                        Limits.USUAL,
                        intake.reception(senders),
                        metrics::text,
                        () ->
                            Stream.concat(disk.full().stream(), broken.values().stream())
                                .findFirst())));
    System.out.println(
        "Stillwatch takes telemetry of "
            + String.join(", ", wells.stream().map(IntakeWell::id).toList())
            + " at "
            + listen.url(door.port()));
    System.out.println(
        "What the broker has not taken is kept in "
            + folder.toAbsolutePath()
            + ". Ctrl-C ends it.");
    shutdown.await();
  }
}

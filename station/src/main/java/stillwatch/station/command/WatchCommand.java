package stillwatch.station.command;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.series.WellPicture;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.disk.Disk;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.entrance.BoundedMap;
import stillwatch.ingest.intake.OnThisMachine;
import stillwatch.ingest.intake.Senders;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.rules.drill.Scenario;
import stillwatch.rules.service.RulesService;
import stillwatch.rules.service.RulesService.WatchedWell;
import stillwatch.station.option.BrokerOption;
import stillwatch.station.option.InputException;
import stillwatch.station.option.JournalOption;
import stillwatch.station.option.MetricsOption;
import stillwatch.station.option.PlanOption;
import stillwatch.station.option.RoomOption;
import stillwatch.station.option.TokensOption;
import stillwatch.station.output.Cautions;
import stillwatch.station.output.FindingText;
import stillwatch.station.run.AlertsParts;
import stillwatch.station.run.AlertsSide;
import stillwatch.station.run.BrokerProcess;
import stillwatch.station.run.DataFolder;
import stillwatch.station.run.DemoFolder;
import stillwatch.station.run.DemoScenarios;
import stillwatch.station.run.HeapNeed;
import stillwatch.station.run.LogFeed;
import stillwatch.station.run.Metrics;
import stillwatch.station.run.Shutdown;
import stillwatch.station.run.Stage;

/** Everything in one process. */
@Command(
    name = "watch",
    mixinStandardHelpOptions = true,
    description =
        "Watches a well: broker, intake, rules, alarm desk, routes and the operations-room page in one process.",
    footer = {"", Cautions.TEXT})
public final class WatchCommand implements Callable<Integer> {
  private static final double DEMO_SPEED = 300;

  /** Forty seconds before the well of the demo's recording gives way. */
  private static final Instant GATEWAYS_FROM = Instant.parse("2026-03-08T11:44:20Z");

  /** Ten minutes for the whole of a scenario. */
  private static final double SPEED_PER_HOUR = 6;

  /** What the console said of so many alarms is remembered, so that it says nothing twice. */
  private static final int TOLD = 10_000;

  @Option(
      names = "--plan",
      paramLabel = "FILE",
      description = "The plan of the well's test (YAML).")
  private @Nullable Path plan;

  @Option(
      names = "--demo",
      description =
          "Watches the invented well Larkspur-2 from a recording, 300 times faster than life, and keeps nothing.")
  private boolean demo;

  @Option(
      names = "--scenario",
      paramLabel = "NAME",
      description =
          "Simulates this scenario of the invented well for --demo and shows it in ten minutes, for example whole-test.")
  private @Nullable String scenario;

  @Mixin private BrokerOption broker = new BrokerOption();

  @Option(
      names = "--data",
      paramLabel = "DIR",
      description = "The folder that holds the log and the journal. Default: stillwatch-data.")
  private @Nullable Path data;

  @Mixin private RoomOption room = new RoomOption();
  @Mixin private TokensOption tokens = new TokensOption();
  @Mixin private JournalOption journal = new JournalOption();
  @Mixin private MetricsOption telling = new MetricsOption();

  @Option(
      names = "--drill",
      paramLabel = "RECORDING",
      description = "Feeds this recording as if it were live.")
  private @Nullable Path drill;

  @Option(
      names = "--speed",
      paramLabel = "N",
      description = "How many times faster than life a drill runs. Default: 1.")
  private @Nullable Double speed;

  @Option(
      names = "--from",
      paramLabel = "TIME",
      description =
          "A drill feeds at once what its recording has before this moment (UTC, for example 2026-03-08T11:20:00Z).")
  private @Nullable Instant from;

  @Option(
      names = "--by",
      paramLabel = "NAME",
      description = {
        "The demo at life's speed through a real door: gateways on this machine, which it starts, say the recording, and the watch reads the one of this name: modbus or opcua.",
        "./stillwatch sources --plan demo-data/larkspur/sources-demo.yaml then shows what both say."
      })
  private @Nullable String by;

  private @Nullable SourcePlan door;
  private @Nullable DemoFolder demoFolder;

  @Override
  public Integer call() throws IOException {
    if (demo && plan != null) {
      throw new InputException(
          "--demo --plan " + plan + ": the demo has its own plan; leave one of the two out");
    }
    if (scenario != null && (!demo || drill != null)) {
      throw new InputException(
          "--scenario " + scenario + ": needs --demo, and no --drill beside it");
    }
    if (by != null && (!demo || speed != null)) {
      throw new InputException(
          "--by " + by + ": needs --demo, and no --speed: gateways speak at life's speed");
    }
    if (demo) {
      room.beOpen();
    }
    room.check(); // refused before anything is begun
    if (demo) {
      arrangeDemo();
    }
    if (plan == null) {
      throw new InputException(
          "the watch needs a plan; give one with --plan FILE, or see an invented well with --demo");
    }
    checkDrill();
    Shutdown shutdown = new Shutdown();
    try {
      run(plan, data == null ? Path.of("stillwatch-data") : data, shutdown);
    } catch (RuntimeException | IOException e) {
      shutdown.end();
      throw e;
    }
    return 0;
  }

  private void arrangeDemo() throws IOException {
    Path home = Path.of(System.getProperty("stillwatch.home", "."));
    plan =
        home.resolve(
            by == null ? "demo-data/larkspur/plan.yaml" : "demo-data/larkspur/sources-demo.yaml");
    @Nullable Scenario shown =
        scenario == null
            ? null
            : DemoScenarios.named(home.resolve("demo-data/larkspur/scenarios"), scenario);
    if (drill == null && shown == null) {
      drill = home.resolve("demo-data/larkspur/leak.csv.gz");
      speed = speed == null && by == null ? Double.valueOf(DEMO_SPEED) : speed;
      from = from == null && by != null ? GATEWAYS_FROM : from;
    }
    if (data == null) {
      DemoFolder temporary = DemoFolder.make();
      data = temporary.path();
      demoFolder = temporary;
    }
    if (shown != null) {
      drill = DemoScenarios.recorded(shown, Files.createDirectories(data));
      speed = speed == null && by == null ? Double.valueOf(shown.hours() * SPEED_PER_HOUR) : speed;
    }
  }

  private void checkDrill() {
    if (speed != null && (drill == null || !(speed > 0) || speed > 1e6)) {
      throw new InputException(
          "--speed " + speed + ": needs --drill, and a number above 0 and up to 1000000");
    }
    if (from != null && drill == null) {
      throw new InputException("--from " + from + ": needs --drill");
    }
  }

  private void run(Path plan, Path data, Shutdown shutdown) throws IOException {
    if (demoFolder != null) {
      shutdown.closes(demoFolder);
    }
    Metrics metrics =
        shutdown.closes(new Metrics(telling.receiver(), room.outgoing())); // its end comes last
    BrokerProcess.@Nullable Ahead ahead =
        broker.given() ? null : shutdown.closes(BrokerProcess.ahead());
    WatchedWell watched = PlanOption.load(plan); // first: a mistake in it must leave nothing behind
    door = by == null ? null : LogFeed.source(watched.plan(), by);
    int gauges = watched.plan().gauges().size();
    HeapNeed.check(gauges, WellPicture.trailBytes(gauges), Runtime.getRuntime().maxMemory());
    Senders known = tokens.senders().orElse(Senders.nobody());
    Senders senders = watched.plan().openTelemetry() ? new OnThisMachine(known) : known;
    @Nullable RecordingFeed recording =
        drill == null
            ? null
            : RecordingFeed.open(drill, watched.plan().recordings(), new Problems());
    Path folder = shutdown.closes(DataFolder.take(data)).path();
    Disk disk = new Disk(folder, () -> System.nanoTime() / 1_000_000);
    BrokerProcess own =
        ahead == null
            ? null
            : shutdown.closes(
                BrokerProcess.start(folder.resolve("broker"), () -> disk.full().isEmpty(), ahead));
    CompletableFuture<Journal> opening = CompletableFuture.supplyAsync(() -> journal.open(folder));
    shutdown.closes(() -> closeIfOpen(opening));
    Journal open = joined(opening);
    Bus bus = shutdown.closes(own == null ? broker.open() : open(own));
    PlanOption.sayDelays(watched); // not before broker and journal have opened
    LogFeed.Place place =
        new LogFeed.Place(watched.plan(), bus, folder, disk, room.outgoing(), metrics, shutdown);
    AlertsSide side = assemble(watched, open, place, feed(place, recording, senders));
    side.watch(disk);
    if (own != null) {
      side.watch(own);
    }
    shutdown.await();
  }

  private static Bus open(BrokerProcess broker) {
    Bus bus = KafkaBus.open(new BusSettings(broker.address(), Map.of(), "watch"));
    bus.createTopics(1, 1);
    return bus;
  }

  private static void closeIfOpen(CompletableFuture<? extends AutoCloseable> future)
      throws Exception {
    AutoCloseable opened = future.exceptionally(fault -> null).join();
    if (opened != null) {
      opened.close();
    }
  }

  private static <T> T joined(CompletableFuture<T> future) {
    try {
      return future.join();
    } catch (CompletionException e) {
      throw e.getCause() instanceof RuntimeException cause ? cause : e;
    }
  }

  private AlertsSide assemble(
      WatchedWell watched, Journal open, LogFeed.Place place, LogFeed feed) {
    Shutdown shutdown = place.shutdown();
    AlertsParts parts =
        new AlertsParts(
            place.bus(), open, watched.plan(), feed.pace(), place.trust(), place.metrics());
    AlertsSide side =
        shutdown.closes(
            AlertsSide.start(
                parts, place.bus(), feed.mode(), feed.reception(), feed.sources(), room));
    tellOf(side, feed.pace().drill() ? "EXERCISE  " : "");
    say(watched, room.url(side.port()), place.data(), feed.mode().get(), feed.reception() != null);
    room.sayWhoMayEnter(side::firstLink, side.port());
    judge(watched, place, side);
    feed.starting().accept(side.listener());
    return side;
  }

  private LogFeed feed(LogFeed.Place place, @Nullable RecordingFeed recording, Senders senders)
      throws IOException {
    if (recording == null || drill == null) {
      return LogFeed.live(place, senders);
    }
    return door == null
        ? LogFeed.drill(place, drill, recording, speed == null ? 1 : speed, from)
        : LogFeed.gateways(place, drill, recording, door, from == null ? Instant.EPOCH : from);
  }

  /** Tells each alarm on the console from now on. */
  private static void tellOf(AlertsSide side, String before) {
    Set<String> told =
        Collections.newSetFromMap(Collections.synchronizedMap(new BoundedMap<>(TOLD)));
    Runnable unused = side.desk().onChange(alarm -> tell(before, alarm, told));
  }

  private static void judge(WatchedWell watched, LogFeed.Place place, AlertsSide side) {
    place
        .shutdown()
        .closes(
            Stage.start(
                "rules",
                () ->
                    new RulesService(
                        place.bus(),
                        List.of(watched),
                        Clock.systemUTC(),
                        place.metrics().registry()),
                side.listener()));
  }

  private static void say(WatchedWell watched, String url, Path data, String mode, boolean takes) {
    System.out.println(
        "Stillwatch watches "
            + watched.plan().name()
            + ", plan "
            + watched.plan().revision()
            + " "
            + watched.plan().fingerprint());
    System.out.println("Page      " + url);
    System.out.println(
        "Readings  " + (takes ? mode + ": POST " + url + "telemetry" : "EXERCISE, " + mode));
    System.out.println("Data      " + data.toAbsolutePath());
    System.out.println("Ctrl-C ends it.");
    System.out.println(Cautions.TEXT);
    System.out.println();
  }

  /** Each raising and each end once: an alarm changes again when its point is raised again. */
  private static void tell(String before, DeskAlarm alarm, Set<String> told) {
    if (alarm.acknowledgedBy() == null
        && told.add(alarm.finding().id() + alarm.finding().returned())) {
      System.out.print(before + FindingText.of(alarm.finding()));
      System.out.flush();
    }
  }
}

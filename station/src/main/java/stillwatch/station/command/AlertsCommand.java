package stillwatch.station.command;

import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.alerts.journal.Journal;
import stillwatch.ingest.bus.Bus;
import stillwatch.rules.service.RulesService.WatchedWell;
import stillwatch.station.option.BrokerOption;
import stillwatch.station.option.JournalOption;
import stillwatch.station.option.MetricsOption;
import stillwatch.station.option.PlanOption;
import stillwatch.station.option.RoomOption;
import stillwatch.station.output.Cautions;
import stillwatch.station.run.AlertsParts;
import stillwatch.station.run.AlertsSide;
import stillwatch.station.run.LogPace;
import stillwatch.station.run.Metrics;
import stillwatch.station.run.Shutdown;

/** The alarm side alone. */
@Command(
    name = "alerts",
    mixinStandardHelpOptions = true,
    description =
        "Alarm desk, journal, routes and the operations-room page of one well on a broker, and nothing else.",
    footer = {"", Cautions.TEXT})
public final class AlertsCommand implements Callable<Integer> {
  @Mixin private PlanOption plan = new PlanOption();
  @Mixin private BrokerOption broker = new BrokerOption();
  @Mixin private JournalOption journal = new JournalOption();
  @Mixin private MetricsOption telling = new MetricsOption();
  @Mixin private RoomOption room = new RoomOption();

  @Option(
      names = "--data",
      paramLabel = "DIR",
      description = "The folder that holds the journal. Default: stillwatch-data.")
  private Path data = Path.of("stillwatch-data");

  @Override
  public Integer call() {
    room.check();
    WatchedWell watched = plan.load();
    Shutdown shutdown = new Shutdown();
    Metrics metrics = shutdown.closes(new Metrics(telling.receiver(), room.outgoing()));
    Journal open = shutdown.closes(journal.open(data));
    Bus bus = shutdown.closes(broker.open());
    AlertsParts parts =
        new AlertsParts(bus, open, watched.plan(), LogPace.live(), room.outgoing(), metrics);
    AlertsSide side =
        shutdown.closes(
            AlertsSide.start(parts, bus, () -> "another process", null, List::of, room));
    System.out.println(
        "Stillwatch shows " + watched.plan().name() + " at " + room.url(side.port()));
    room.sayWhoMayEnter(side::firstLink, side.port());
    shutdown.await();
    return 0;
  }
}

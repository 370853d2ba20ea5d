package stillwatch.station.command;

import java.io.IOException;
import java.time.Clock;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentHashMap;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.entrance.Limits;
import stillwatch.ingest.intake.Door;
import stillwatch.rules.service.RulesService;
import stillwatch.rules.service.RulesService.WatchedWell;
import stillwatch.station.option.BrokerOption;
import stillwatch.station.option.ListenOption;
import stillwatch.station.option.MetricsOption;
import stillwatch.station.option.PlanOption;
import stillwatch.station.option.PlansOption;
import stillwatch.station.option.TrustOption;
import stillwatch.station.output.Cautions;
import stillwatch.station.run.Lookouts;
import stillwatch.station.run.Metrics;
import stillwatch.station.run.Shutdown;
import stillwatch.station.run.Stage;

/** The rules alone. */
@Command(
    name = "rules",
    mixinStandardHelpOptions = true,
    description =
        "Judges a broker's log by the rules, and nothing else. Start as many as there are machines: they share the wells.",
    footer = {"", Cautions.TEXT})
public final class RulesCommand implements Callable<Integer> {
  @Mixin private PlansOption plans = new PlansOption();
  @Mixin private BrokerOption broker = new BrokerOption();

  @Mixin private ListenOption listen = new ListenOption();
  @Mixin private MetricsOption telling = new MetricsOption();
  @Mixin private TrustOption trust = new TrustOption();

  @Override
  public Integer call() throws IOException {
    List<WatchedWell> wells = plans.load();
    Metrics metrics = new Metrics(telling.receiver(), trust.outgoing());
    Shutdown shutdown = new Shutdown();
    shutdown.closes(metrics);
    Bus bus = shutdown.closes(broker.open());
    wells.forEach(PlanOption::sayDelays);
    Map<String, String> broken = new ConcurrentHashMap<>();
    Door door =
        shutdown.closes(
            listen.first(
                address ->
                    new Door(
                        address,
                        Limits.USUAL,
                        null,
                        metrics::text,
                        () -> broken.values().stream().findFirst())));
    shutdown.closes(
        Stage.start("broker", () -> Lookouts.broker(bus, broken), Stage.Listener.into(broken)));
    shutdown.closes(
        Stage.start(
            "rules",
            () -> new RulesService(bus, wells, Clock.systemUTC(), metrics.registry()),
            Stage.Listener.into(broken)));
    System.out.println(
        "Stillwatch judges "
            + String.join(", ", wells.stream().map(w -> w.plan().well()).toList())
            + " and says how it is at "
            + listen.url(door.port()));
    shutdown.await();
    return 0;
  }
}

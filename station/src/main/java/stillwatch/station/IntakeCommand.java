package stillwatch.station;

import java.io.IOException;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.intake.Door;
import stillwatch.ingest.intake.Intake;
import stillwatch.ingest.intake.IntakeWell;
import stillwatch.ingest.intake.Reception;

/** The intake alone. */
@Command(
    name = "intake",
    mixinStandardHelpOptions = true,
    description =
        "Takes telemetry by HTTP into a broker's log, and nothing else. Run one for each well.",
    footer = {"", Cautions.TEXT})
final class IntakeCommand implements Callable<Integer> {
  @Mixin private PlansOption plans = new PlansOption();
  @Mixin private BrokerOption broker = new BrokerOption();
  @Mixin private ListenOption listen = new ListenOption();

  @Override
  public Integer call() throws IOException {
    List<IntakeWell> wells =
        plans.load().stream().map(watched -> PlanOption.intake(watched.plan())).toList();
    Metrics metrics = new Metrics();
    Ending ending = new Ending();
    Bus bus = ending.closes(broker.open());
    Intake intake = ending.closes(new Intake(bus, wells, Clock.systemUTC(), metrics.registry()));
    Door door =
        ending.closes(
            listen.first(
                address ->
                    new Door(
                        address,
                        new Reception(intake),
                        metrics::text,
                        () -> bus.reachable(Duration.ofSeconds(3)))));
    System.out.println(
        "Stillwatch takes telemetry of "
            + String.join(", ", wells.stream().map(IntakeWell::id).toList())
            + " at "
            + listen.url(door.port()));
    ending.await();
    return 0;
  }
}

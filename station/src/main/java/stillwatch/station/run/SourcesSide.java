package stillwatch.station.run;

import io.micrometer.core.instrument.MeterRegistry;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import stillwatch.ingest.door.Inlet;
import stillwatch.ingest.door.Source;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.intake.Resent;
import stillwatch.ingest.intake.SourceHealth;

/** The sources that a plan names, each in a stage of its own. */
public final class SourcesSide implements AutoCloseable {
  private final List<Planned> all = new ArrayList<>();
  private final Trust trust;
  private final List<Stage<Source>> stages = new ArrayList<>();

  private record Planned(SourcePlan plan, Inlet inlet) {}

  /**
   * Makes them; nothing is fetched before {@link #start}.
   *
   * @param well whose readings they are
   * @param sources what the plan says of them
   * @param intake takes what they give
   * @param trust whom they trust over TLS
   */
  public SourcesSide(
      String well,
      List<SourcePlan> sources,
      SpooledIntake intake,
      Trust trust,
      MeterRegistry meters) {
    this.trust = trust;
    for (SourcePlan source : sources) {
      Inlet inlet =
          new Inlet(
              well,
              source.name(),
              intake.inside(),
              new Resent(intake::newest),
              intake.sourcesFolder());
      all.add(new Planned(source, inlet));
      SourceMeters.bind(source.name(), () -> Optional.of(inlet.health().state()), meters);
    }
  }

  /** Starts them. */
  public void start(Stage.Listener listener) {
    for (Planned p : all) {
      stages.add(
          Stage.start(
              "source " + p.plan().name(), () -> Source.of(p.plan(), p.inlet(), trust), listener));
    }
  }

  /** How each is, in the plan's order. */
  public List<SourceHealth.State> states() {
    return all.stream().map(p -> p.inlet().health().state()).toList();
  }

  @Override
  public void close() {
    stages.forEach(Stage::end);
    stages.forEach(Stage::close);
  }
}

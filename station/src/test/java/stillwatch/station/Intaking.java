package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.disk.Disk;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.rules.plan.Plan;
import stillwatch.station.option.PlanOption;
import stillwatch.station.run.Metrics;
import stillwatch.station.run.SourcesSide;
import stillwatch.station.run.SpooledIntake;
import stillwatch.station.run.Stage;

/** A watch's way from a plan's sources to the log. */
final class Intaking implements AutoCloseable {
  private final SpooledIntake intake;
  private final SourcesSide sources;

  private Intaking(SpooledIntake intake, SourcesSide sources) {
    this.intake = intake;
    this.sources = sources;
  }

  /** Opens it in a data folder; whatever ends a source but its end fails the test. */
  static Intaking open(Path folder, Plan plan, Bus bus, Trust trust) throws Exception {
    Metrics metrics = new Metrics(Optional.empty(), Trust.usual());
    Disk disk = new Disk(folder, () -> System.nanoTime() / 1_000_000);
    SpooledIntake intake =
        new SpooledIntake(
            folder.resolve("spool"), disk, bus, List.of(plan.intake()), () -> {}, metrics);
    SourcesSide sources =
        new SourcesSide(plan.well(), plan.sources(), intake, trust, metrics.registry());
    sources.start(
        new Stage.Listener() {
          @Override
          public void stopped(String stage, String why) {
            throw new AssertionError(stage + " stopped: " + why);
          }

          @Override
          public void running(String stage) {
            // never stopped
          }
        });
    return new Intaking(intake, sources);
  }

  /** How the plan's first source is. */
  SourceHealth.State state() {
    return sources.states().get(0);
  }

  /** The demo's plan with these sources. */
  static Plan plan(Path folder, String sources) throws Exception {
    Path file = folder.resolve("plan.yaml");
    Files.writeString(
        file, Files.readString(WatchProcess.LARKSPUR.resolve("plan.yaml")) + "\n" + sources);
    return PlanOption.load(file).plan();
  }

  static void until(String what, BooleanSupplier holds) {
    long endNs = System.nanoTime() + 120_000_000_000L;
    while (!holds.getAsBoolean()) {
      assertThat(System.nanoTime()).as("still waiting until " + what).isLessThan(endNs);
      LockSupport.parkNanos(20_000_000);
    }
  }

  @Override
  public void close() {
    sources.close();
    intake.close();
  }
}

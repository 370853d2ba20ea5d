package stillwatch.station.run;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.function.Consumer;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.disk.Disk;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.Senders;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.rules.finding.Hashes;
import stillwatch.rules.plan.Plan;
import stillwatch.station.option.InputException;

/**
 * What fills the log of a watch.
 *
 * @param mode what it is, for people
 * @param pace how the log's time runs
 * @param reception takes telemetry on the room's address; null where none is taken there
 * @param sources how the sources are that this process fetches readings from
 * @param starting starts it, once; what stops is told
 */
public record LogFeed(
    Supplier<String> mode,
    LogPace pace,
    @Nullable Reception reception,
    Supplier<List<SourceHealth.State>> sources,
    Consumer<Stage.Listener> starting) {

  /** Where a feed works. */
  public record Place(
      Plan plan, Bus bus, Path data, Disk disk, Trust trust, Metrics metrics, Shutdown shutdown) {
    private SpooledIntake intake() throws IOException {
      return shutdown.closes(
          new SpooledIntake(
              data.resolve("spool"), disk, bus, List.of(plan.intake()), () -> {}, metrics));
    }

    private SourcesSide sources(List<SourcePlan> of, SpooledIntake intake) {
      return shutdown.closes(new SourcesSide(plan.well(), of, intake, trust, metrics.registry()));
    }

    private void start(Runnable feeder) {
      Thread thread = new Thread(feeder, "drill");
      thread.setDaemon(true);
      thread.start();
    }
  }

  /** The plan's sources, and whoever of these senders posts. */
  public static LogFeed live(Place place, Senders senders) throws IOException {
    SpooledIntake intake = place.intake();
    Reception reception = intake.reception(senders);
    SourcesSide sources = place.sources(place.plan.sources(), intake);
    return new LogFeed(
        () -> "live readings",
        LogPace.live(),
        reception,
        () -> Stream.concat(sources.states().stream(), reception.state().stream()).toList(),
        sources::start);
  }

  /**
   * A recording as if it were live.
   *
   * @param file where it lies
   * @param speed log seconds per second of life
   * @param from what it has before this moment is fed at once; null for nothing
   */
  public static LogFeed drill(
      Place place, Path file, RecordingFeed recording, double speed, @Nullable Instant from)
      throws IOException {
    DrillFeeder feeder =
        new DrillFeeder(place.bus, recording, place.plan.well(), Hashes.hex(16, file), speed, from);
    return new LogFeed(
        () -> named(file) + (feeder.over() ? ", over" : timesLife(speed)),
        new LogPace(true, speed, feeder::over),
        null,
        List::of,
        listener -> place.start(place.shutdown.closes(feeder)));
  }

  /**
   * The source of this name.
   *
   * @throws InputException when the plan has none, with the names there are
   */
  public static SourcePlan source(Plan plan, String name) {
    return plan.sources().stream()
        .filter(s -> s.name().equals(name))
        .findFirst()
        .orElseThrow(
            () ->
                new InputException(
                    "--by %s: there is no such gateway; there are %s"
                        .formatted(
                            name,
                            plan.sources().stream()
                                .map(SourcePlan::name)
                                .collect(Collectors.joining(", ")))));
  }

  /**
   * A recording that gateways of this process say, read by one of the plan's sources.
   *
   * @param file where it lies
   * @param from the moment with which they begin
   * @throws InputException when a gateway cannot listen, or the log is not empty
   */
  public static LogFeed gateways(
      Place place, Path file, RecordingFeed recording, SourcePlan source, Instant from)
      throws IOException {
    Plan plan = place.plan;
    if (place.bus.last(Topics.TELEMETRY, m -> m.key().equals(plan.well())).isPresent()) {
      throw new InputException(
          "the log already holds entries of %s; give another folder with --data, or another broker"
              .formatted(plan.well()));
    }
    DrillGateways gateways = place.shutdown.closes(DrillGateways.open(plan, recording, from));
    SourcesSide sources = place.sources(List.of(source), place.intake());
    return new LogFeed(
        () -> named(file) + " by " + source.name() + (gateways.over() ? ", over" : ""),
        new LogPace(true, 1, gateways::over),
        null,
        sources::states,
        listener -> {
          place.start(gateways);
          sources.start(listener);
        });
  }

  private static String named(Path file) {
    return "drill " + file.getFileName();
  }

  private static String timesLife(double speed) {
    return String.format(
        Locale.ROOT,
        ", %s times life",
        BigDecimal.valueOf(speed).stripTrailingZeros().toPlainString());
  }
}

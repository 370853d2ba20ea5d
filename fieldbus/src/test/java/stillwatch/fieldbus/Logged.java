package stillwatch.fieldbus;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.json.JsonReadFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.door.Inlet;
import stillwatch.ingest.door.Source;
import stillwatch.ingest.door.SourceKind;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.door.SourceReading;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.intake.Intake;
import stillwatch.ingest.intake.IntakeWell;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.Resent;
import stillwatch.ingest.intake.Senders;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.PlanLoader;

/**
 * A log in memory, and sources that give it their readings: gauges PT-1, PT-2 and so on of pressure
 * in kPa, TT-1 and so on of temperature in Cel. The log outlives its sources, as a watch's does.
 */
public final class Logged implements AutoCloseable {
  private static final JsonMapper JSON =
      JsonMapper.builder()
          .enable(JsonReadFeature.ALLOW_UNQUOTED_FIELD_NAMES, JsonReadFeature.ALLOW_SINGLE_QUOTES)
          .build();
  private static final IntakeWell WELL =
      new IntakeWell(
          "larkspur-2",
          Map.of(
              "PT-1", gauge(Kind.PRESSURE),
              "PT-2", gauge(Kind.PRESSURE),
              "PT-3", gauge(Kind.PRESSURE),
              "PT-4", gauge(Kind.PRESSURE),
              "TT-1", gauge(Kind.TEMPERATURE),
              "TT-2", gauge(Kind.TEMPERATURE)),
          Duration.ofMinutes(2));

  private final List<Telemetry> log = new CopyOnWriteArrayList<>();
  private final Path folder;
  private final Intake intake;
  private volatile boolean full;
  private volatile @Nullable Running running;

  private static IntakeWell.Gauge gauge(Kind kind) {
    return new IntakeWell.Gauge(kind, kind.baseUnit());
  }

  /** An empty one; sources keep in the folder what they must know after a restart. */
  public Logged(Path folder) {
    this.folder = folder;
    intake =
        new Intake(
            List.of(WELL),
            writer(log),
            writer(new ArrayList<>()),
            0,
            Clock.systemUTC(),
            new SimpleMeterRegistry());
  }

  private TopicWriter writer(List<Telemetry> into) {
    TelemetryCodec codec = new TelemetryCodec();
    return new TopicWriter() {
      @Override
      public CompletableFuture<Void> append(Message message) {
        if (full) {
          return CompletableFuture.failedFuture(new IllegalStateException("there is no room"));
        }
        into.add(codec.decode(message));
        return CompletableFuture.completedFuture(null);
      }

      @Override
      public void flush() {}

      @Override
      public void close() {}
    };
  }

  /** Whether nothing can be kept from now on. */
  public void full(boolean is) {
    full = is;
  }

  /** What it has of a gauge. */
  public List<Frame> frames(String gauge) {
    return log.stream()
        .filter(t -> t instanceof Frame f && f.gauges().ids().equals(List.of(gauge)))
        .map(Frame.class::cast)
        .toList();
  }

  /** What it has of all gauges. */
  public List<Frame> frames() {
    return log.stream().filter(Frame.class::isInstance).map(Frame.class::cast).toList();
  }

  /** Waits until it has so many of a gauge; gives them. */
  public List<Frame> frames(String gauge, int atLeast) {
    until(
        () -> atLeast + " of " + gauge + ", but it has " + frames(gauge).size() + " by " + running,
        () -> frames(gauge).size() >= atLeast);
    return frames(gauge);
  }

  /** What a plan says of a source of this kind; a mistake fails the test. */
  public static SourcePlan.Brought way(String kind, String source) {
    List<String> mistakes = new ArrayList<>();
    SourcePlan.@Nullable Brought way = read(kind, source, mistakes);
    assertThat(mistakes).isEmpty();
    return Objects.requireNonNull(way);
  }

  /** The source of the example of the documents that begins so, with these words replaced. */
  public static SourcePlan.Brought example(Path folder, String begins, Map<String, String> instead)
      throws IOException {
    String doc = Files.readString(Path.of("../docs/adapters.md"));
    String fence = "```yaml\n";
    int from = doc.indexOf(fence + begins) + fence.length();
    String text = doc.substring(from, doc.indexOf("```", from));
    for (Map.Entry<String, String> e : instead.entrySet()) {
      assertThat(text).contains(e.getKey());
      text = text.replace(e.getKey(), e.getValue());
    }
    Path plan =
        Files.writeString(
            folder.resolve("plan.yaml"),
            Files.readString(Path.of("../demo-data/larkspur/plan.yaml")) + "\n" + text);
    return (SourcePlan.Brought)
        PlanLoader.load(plan, RuleBook.forPlan(plan).catalogue()).sources().get(0).way();
  }

  /** The mistakes in what a plan says of a source, each with its place. */
  public static List<String> mistakes(String kind, String source) {
    List<String> mistakes = new ArrayList<>();
    var unused = read(kind, source, mistakes);
    return mistakes;
  }

  private static SourcePlan.@Nullable Brought read(
      String kind, String source, List<String> mistakes) {
    SourceReading plan =
        new SourceReading() {
          @Override
          public String well() {
            return WELL.id();
          }

          @Override
          public String name() {
            return "peer";
          }

          @Override
          public void fault(String at, String message) {
            mistakes.add(at + " " + message);
          }

          @Override
          public Optional<Kind> gauge(String id, String unit, String at) {
            return Optional.ofNullable(WELL.gauges().get(id)).map(IntakeWell.Gauge::kind);
          }

          @Override
          public Duration duration(String key, Duration otherwise) {
            try {
              double s = JSON.readTree(source).path(key).asDouble(otherwise.toMillis() / 1000.0);
              return Duration.ofMillis(Math.round(1000 * s));
            } catch (JsonProcessingException e) {
              throw new IllegalArgumentException(e);
            }
          }
        };
    try {
      return SourceKind.of(kind).orElseThrow().read(JSON.readTree(source), plan);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException(e);
    }
  }

  /** Starts a source. */
  public Running start(SourcePlan.Brought way) {
    Inlet inlet =
        new Inlet(
            WELL.id(),
            "peer",
            new Reception(intake, Senders.nobody()),
            new Resent(() -> List.copyOf(log)),
            folder);
    Source source = way.source(inlet, Trust.usual());
    Thread thread = new Thread(source, "source");
    thread.start();
    Running started = new Running(inlet, source, thread);
    running = started;
    return started;
  }

  /**
   * Ends a source as a killed process does: what it has given and is not kept at this moment is
   * gone, and so is what it noted meanwhile in the file with this ending.
   */
  public void kill(Running source, String ending) throws IOException {
    Path notes = folder.resolve("peer" + ending);
    byte[] noted = Files.exists(notes) ? Files.readAllBytes(notes) : new byte[0];
    full = true;
    source.close();
    Files.deleteIfExists(notes);
    if (noted.length > 0) {
      Files.write(notes, noted);
    }
    full = false;
  }

  /** A source that runs. */
  public record Running(Inlet inlet, Source source, Thread thread) implements AutoCloseable {
    public SourceHealth.State state() {
      return inlet.health().state();
    }

    @Override
    public String toString() {
      return state().toString();
    }

    /** Waits until it is in touch, and lacks nothing. */
    public Running connected() {
      until(
          () -> "it is connected, but it is " + state(),
          () -> state().connected() && state().fault().isEmpty());
      return this;
    }

    /** Waits until its fault contains this. */
    public void says(String fault) {
      until(
          () -> "it says " + fault + ", but it is " + state(),
          () -> state().fault().contains(fault));
      assertThat(state().fault()).doesNotContain("\n").doesNotContain("Exception");
    }

    @Override
    public void close() {
      source.close();
      try {
        thread.join(10_000);
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
      assertThat(thread.isAlive()).as("the source is still running").isFalse();
    }
  }

  /** Waits for it, at most twenty seconds. */
  public static void until(String what, BooleanSupplier holds) {
    until(() -> what, holds);
  }

  private static void until(Supplier<String> what, BooleanSupplier holds) {
    long endNs = System.nanoTime() + 20_000_000_000L;
    while (!holds.getAsBoolean()) {
      assertThat(System.nanoTime()).as(() -> "still waiting until " + what.get()).isLessThan(endNs);
      LockSupport.parkNanos(10_000_000);
    }
  }

  @Override
  public void close() {
    intake.close();
  }
}

package stillwatch.ingest.door;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import stillwatch.ingest.intake.Intake;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.Refusal;
import stillwatch.ingest.intake.Resent;
import stillwatch.ingest.intake.Sender;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Quality;

/**
 * Where one source gives its readings: checked, converted and stamped as those that come by HTTP
 * are. It knows what the source gave lately, and takes it once. Safe from any thread, and in order
 * from one.
 */
public final class Inlet {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final String well;
  private final Reception reception;
  private final Sender sender;
  private final SourceHealth health;
  private final Resent resent;
  private final Path folder;

  /**
   * For one source.
   *
   * @param well whose readings they are
   * @param source the source's name
   * @param resent what it gave before this process began
   * @param folder where it may keep what it must know after a restart
   */
  public Inlet(String well, String source, Reception reception, Resent resent, Path folder) {
    this.folder = folder;
    this.well = well;
    this.reception = reception;
    sender = new Sender(source, false);
    health = new SourceHealth(source, reception::nowMs);
    this.resent = resent;
  }

  /** How the source is. */
  public SourceHealth health() {
    return health;
  }

  /** Makes it ready: a source calls this before it fetches anything. */
  public void open() {
    resent.load();
  }

  /** Where it may keep what it must know after a restart; under its own name. */
  public Path folder() {
    return folder;
  }

  /** The name of the source. */
  public String name() {
    return sender.name();
  }

  /** Now, as the log stamps what comes; ms since 1970 UTC. */
  public long nowMs() {
    return reception.nowMs();
  }

  /**
   * Takes a reading.
   *
   * @return completes when it is kept, or what is refused is among the rejects; exceptionally when
   *     it is not, and the other side must keep it
   */
  public CompletableFuture<Void> take(Reading reading) {
    ObjectNode n = JSON.createObjectNode();
    n.put("well", well).put("at", Instant.ofEpochMilli(reading.atMs()).toString());
    n.put("gauge", reading.gauge())
        .put("value", Double.isNaN(reading.value()) ? null : (Double) reading.value());
    n.put("quality", reading.quality());
    if (!reading.unit().isEmpty()) {
      n.put("unit", reading.unit());
    }
    return line(n);
  }

  /**
   * Takes what gauges say at one moment, as {@link #take(Reading)} does.
   *
   * @param units the UCUM code of each gauge's value
   */
  CompletableFuture<Void> take(Frame frame, Map<String, String> units) {
    ObjectNode n = JSON.createObjectNode();
    n.put("well", well).put("at", Instant.ofEpochMilli(frame.atMs()).toString());
    ObjectNode values = n.putObject("values");
    ObjectNode its = n.putObject("units");
    ObjectNode qualities = n.putObject("qualities");
    for (int i = 0; i < frame.gauges().size(); i++) {
      String gauge = frame.gauges().ids().get(i);
      Quality quality = Quality.of(frame.qualities()[i]);
      boolean says = !Double.isNaN(frame.values()[i]);
      if (says || quality != Quality.GOOD) {
        values.put(gauge, says ? (Double) frame.values()[i] : null);
        its.put(gauge, units.get(gauge));
        qualities.put(gauge, quality.name().toLowerCase(Locale.ROOT));
      }
    }
    return values.isEmpty() ? CompletableFuture.completedFuture(null) : line(n);
  }

  private CompletableFuture<Void> line(ObjectNode n) {
    try {
      return line(JSON.writeValueAsBytes(n));
    } catch (JsonProcessingException e) {
      throw new UncheckedIOException("cannot write JSON to memory", e);
    }
  }

  /** Takes lines as {@code POST /telemetry} does; blank ones count as none. */
  CompletableFuture<Void> lines(byte[] text) {
    CompletableFuture<Void> kept = CompletableFuture.completedFuture(null);
    int from = 0;
    for (int i = 0; i <= text.length; i++) {
      if (i == text.length || text[i] == '\n') {
        byte[] line = Arrays.copyOfRange(text, from, i);
        if (!Reception.isBlank(line)) {
          kept = CompletableFuture.allOf(kept, line(line));
        }
        from = i + 1;
      }
    }
    return kept;
  }

  /** One at a time, so that of what comes at once by an old and a new connection one is known. */
  private synchronized CompletableFuture<Void> line(byte[] line) {
    health.came();
    Intake.Outcome outcome = reception.take(line, sender, resent);
    health.became(outcome);
    return outcome.acknowledged();
  }

  /** Puts among the rejects what no reading could be made of. */
  public CompletableFuture<Void> refuse(byte[] raw, Refusal why) {
    health.came();
    health.refused(why);
    return reception.refuse(raw, sender.name(), List.of(why));
  }
}

package stillwatch.ingest.door;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import stillwatch.ingest.intake.Intake;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.Refusal;
import stillwatch.ingest.intake.Resent;
import stillwatch.ingest.intake.Sender;

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

  /**
   * For one source.
   *
   * @param well whose readings they are
   * @param source the source's name
   * @param resent what it gave before this process began
   */
  public Inlet(String well, String source, Reception reception, Resent resent) {
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
  void open() {
    resent.load();
  }

  /** The name of the source. */
  String name() {
    return sender.name();
  }

  /** Now, as the log stamps what comes; ms since 1970 UTC. */
  long nowMs() {
    return reception.nowMs();
  }

  /**
   * Takes a reading.
   *
   * @return completes when it is kept, or what is refused is among the rejects; exceptionally when
   *     it is not, and the other side must keep it
   */
  CompletableFuture<Void> take(Reading reading) {
    ObjectNode n = JSON.createObjectNode();
    n.put("well", well).put("at", Instant.ofEpochMilli(reading.atMs()).toString());
    n.put("gauge", reading.gauge()).put("value", reading.value());
    n.put("quality", reading.quality());
    if (!reading.unit().isEmpty()) {
      n.put("unit", reading.unit());
    }
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
    for (Refusal r : outcome.refused()) {
      health.refused(r.reason().wire(), (r.gauge().isEmpty() ? "" : r.gauge() + ": ") + r.why());
    }
    if (outcome.again()) {
      health.again();
    } else if (outcome.taken()) {
      health.taken();
    }
    return outcome.acknowledged();
  }

  /** Puts among the rejects what no reading could be made of. */
  CompletableFuture<Void> refuse(byte[] raw, Refusal why) {
    health.came();
    health.refused(why.reason().wire(), why.why());
    return reception.refuse(raw, sender.name(), List.of(why));
  }
}

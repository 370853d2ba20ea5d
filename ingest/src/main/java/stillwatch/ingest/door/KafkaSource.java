package stillwatch.ingest.door;

import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.concurrent.CompletableFuture;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.bus.BusException;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.ForeignTopic;
import stillwatch.ingest.intake.Refusal;
import stillwatch.ingest.intake.Refusal.Reason;

/**
 * Takes readings from a topic of somebody else's broker, which hears how far it has been read once
 * everything before is kept. While something cannot be kept nothing more is fetched; what comes
 * again after that is known by {@link Inlet}.
 */
final class KafkaSource implements Source {
  private static final Duration WAIT = Duration.ofMillis(200);

  private final KafkaPlan plan;
  private final Inlet inlet;
  private final Attempts attempts;

  KafkaSource(KafkaPlan plan, Inlet inlet) {
    this.plan = plan;
    this.inlet = inlet;
    attempts = new Attempts(inlet);
  }

  @Override
  public void run() {
    attempts.run(this::once);
  }

  private boolean once() throws InterruptedException {
    boolean there = false;
    Instant from = plan.from();
    OptionalLong fromMs =
        from == null ? OptionalLong.empty() : OptionalLong.of(from.toEpochMilli());
    try (ForeignTopic topic =
        ForeignTopic.open(
            new BusSettings(plan.servers(), properties(plan.clientProperties())),
            plan.topic(),
            plan.group(),
            fromMs)) {
      there = true;
      inlet.health().connected();
      while (!attempts.closed()) {
        List<CompletableFuture<Void>> kept = take(topic.poll(WAIT));
        if (!kept.isEmpty()) {
          Kept.all(kept);
          topic.kept();
        }
      }
    } catch (BusException | IOException e) {
      attempts.lost(String.valueOf(e.getMessage()));
    }
    return there;
  }

  private static Map<String, String> properties(@Nullable Path file) throws IOException {
    try {
      return BusSettings.client(file);
    } catch (IOException | IllegalArgumentException e) {
      throw new IOException(
          file + " cannot be read as a properties file; give lines like security.protocol=SSL", e);
    }
  }

  private List<CompletableFuture<Void>> take(ForeignTopic.Batch batch) {
    List<CompletableFuture<Void>> kept = new ArrayList<>();
    for (String why : batch.dropped()) {
      kept.add(inlet.refuse(new byte[0], Refusal.ofLine(Reason.INCOMPLETE, why)));
    }
    for (ForeignTopic.Entry entry : batch.entries()) {
      kept.add(take(entry));
    }
    return kept;
  }

  private CompletableFuture<Void> take(ForeignTopic.Entry entry) {
    byte[] value = entry.value();
    try {
      if (value == null) {
        throw new UnreadableException(
            Reason.BAD_VALUE,
            "a message with the key " + Messages.brief(entry.key()) + " has no value");
      }
      return plan.form().kind() == MessageForm.Kind.LINES
          ? inlet.lines(value)
          : inlet.take(reading(entry.key(), value, entry.timeMs()));
    } catch (UnreadableException e) {
      return inlet.refuse(value == null ? new byte[0] : value, e.refusal());
    }
  }

  private Reading reading(String key, byte[] value, long timeMs) throws UnreadableException {
    long atMs = timeMs < 0 ? inlet.nowMs() : timeMs;
    JsonPointer namedBy = plan.namedBy();
    if (namedBy == null) {
      return Messages.reading(plan.form(), gauge(key), value, atMs);
    }
    JsonNode document = Messages.document(value);
    return Messages.reading(plan.form(), gauge(document.at(namedBy).asText()), document, atMs);
  }

  private String gauge(String name) throws UnreadableException {
    String gauge = plan.gauge() == null ? plan.byName().get(name) : plan.gauge();
    if (gauge == null) {
      throw new UnreadableException(
          Reason.UNKNOWN_GAUGE,
          "the plan names no gauge for "
              + Messages.brief(name)
              + " on the topic "
              + plan.topic()
              + "; say it in 'gauges'");
    }
    return gauge;
  }

  @Override
  public void close() {
    attempts.close();
  }
}

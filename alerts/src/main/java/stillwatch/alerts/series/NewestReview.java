package stillwatch.alerts.series;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.bus.Message;

/**
 * Keeps what the newest reading of a well's build-up says, and how the weights of its explanations
 * went. Safe from any thread.
 */
public final class NewestReview {
  private static final Logger LOG = LoggerFactory.getLogger(NewestReview.class);
  private static final ObjectMapper JSON = new ObjectMapper();

  /** A week of them. */
  private static final int KEPT = 1008;

  private final String well;
  private @Nullable ObjectNode newest;
  private final Deque<JsonNode> history = new ArrayDeque<>();

  /** What is newest of this well. */
  public NewestReview(String well) {
    this.well = well;
  }

  /** Takes a message of the reviews topic; those of other wells are passed over. */
  public void take(Message m) {
    if (!m.key().equals(well)) {
      return;
    }
    try {
      take((ObjectNode) JSON.readTree(m.value()));
    } catch (IOException | ClassCastException | DateTimeParseException e) {
      LOG.warn("offset {} of the reviews topic is not readable: {}", m.offset(), e.getMessage());
    }
  }

  private synchronized void take(ObjectNode said) {
    long atMs = Instant.parse(said.path("at").asText()).toEpochMilli();
    if (said.has("weights")) {
      ObjectNode then = JSON.createObjectNode().put("at", atMs);
      ArrayNode each = then.putArray("weight");
      said.path("weights").forEach(w -> each.add(w.path("weight")));
      history.addLast(then);
      if (history.size() > KEPT) {
        history.removeFirst();
      }
    }
    newest = said;
  }

  /** What the newest review says in words and figures; empty before the first review. */
  public synchronized Optional<JsonNode> words() {
    return Optional.ofNullable(newest)
        .map(n -> n.deepCopy().without(List.of("points", "line", "weights")));
  }

  /**
   * The newest review with the points of its plots and the weights over time; empty before the
   * first review.
   */
  public synchronized Optional<ObjectNode> whole() {
    return Optional.ofNullable(newest)
        .map(
            n -> {
              ObjectNode all = n.deepCopy();
              ArrayNode past = all.putArray("history");
              history.forEach(past::add);
              return all;
            });
  }
}

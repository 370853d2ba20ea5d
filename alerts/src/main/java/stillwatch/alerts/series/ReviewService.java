package stillwatch.alerts.series;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.time.Duration;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.Topics;

/** Keeps what the newest reading of a well's build-up says. One thread runs it. */
public final class ReviewService implements Runnable, AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(ReviewService.class);
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final Duration WAIT = Duration.ofMillis(500);

  private final Bus bus;
  private final String well;
  private volatile @Nullable JsonNode newest;
  private volatile boolean closing;

  /** A service for this well. */
  public ReviewService(Bus bus, String well) {
    this.bus = bus;
    this.well = well;
  }

  @Override
  public void run() {
    try (TopicReader reader = bus.readerOfAll(Topics.REVIEWS, Assignment.FROM_THE_START)) {
      while (!closing) {
        for (Message m : reader.poll(WAIT)) {
          if (m.key().equals(well)) {
            take(m);
          }
        }
      }
    }
  }

  private void take(Message m) {
    try {
      newest = JSON.readTree(m.value());
    } catch (IOException e) {
      LOG.warn("offset {} of the reviews topic is not readable: {}", m.offset(), e.getMessage());
    }
  }

  /** What it says; empty before there is one. Safe from any thread. */
  public Optional<JsonNode> newest() {
    return Optional.ofNullable(newest);
  }

  @Override
  public void close() {
    closing = true;
  }
}

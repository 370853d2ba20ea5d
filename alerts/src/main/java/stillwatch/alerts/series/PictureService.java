package stillwatch.alerts.series;

import java.time.Duration;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.ingest.wire.TelemetryFormatException;

/** Brings a well's log to its picture, from the beginning. One thread runs it. */
public final class PictureService implements Runnable, AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(PictureService.class);
  private static final Duration WAIT = Duration.ofMillis(100);

  private final Bus bus;
  private final String well;
  private final WellPicture picture;
  private final TelemetryCodec codec = new TelemetryCodec();
  private volatile boolean closing;

  /** A service for this well's picture. */
  public PictureService(Bus bus, String well, WellPicture picture) {
    this.bus = bus;
    this.well = well;
    this.picture = picture;
  }

  @Override
  public void run() {
    try (TopicReader reader = bus.readerOfAll(Topics.TELEMETRY, Assignment.FROM_THE_START)) {
      while (!closing) {
        reader.poll(WAIT).forEach(this::take);
      }
    }
  }

  /** Takes a message of the log; those of other wells are passed over. */
  public void take(Message m) {
    if (m.key().equals(well)) {
      try {
        picture.accept(codec.decode(m));
      } catch (TelemetryFormatException e) {
        LOG.debug("offset {} is not drawn: {}", m.offset(), e.getMessage()); // the rules warn of it
      }
    }
  }

  @Override
  public void close() {
    closing = true;
  }
}

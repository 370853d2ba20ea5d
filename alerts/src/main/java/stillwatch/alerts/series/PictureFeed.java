package stillwatch.alerts.series;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.ingest.wire.TelemetryFormatException;

/** Brings messages of the log to a well's picture. Used by one thread. */
public final class PictureFeed {
  private static final Logger LOG = LoggerFactory.getLogger(PictureFeed.class);

  private final String well;
  private final WellPicture picture;
  private final TelemetryCodec codec = new TelemetryCodec();

  /** A feed of this well's picture. */
  public PictureFeed(String well, WellPicture picture) {
    this.well = well;
    this.picture = picture;
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
}

package stillwatch.alerts.desk;

import java.time.Duration;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import stillwatch.alerts.journal.Journal;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.Topics;

/**
 * Brings what the alerts topic says to the desk, from where the journal stopped. One thread runs
 * it.
 */
public final class DeskService implements Runnable, AutoCloseable {
  private static final Duration WAIT = Duration.ofMillis(100);

  private final Bus bus;
  private final Journal journal;
  private final Desk desk;
  private volatile boolean closing;

  /** A service for this desk. */
  public DeskService(Bus bus, Journal journal, Desk desk) {
    this.bus = bus;
    this.journal = journal;
    this.desk = desk;
  }

  @Override
  public void run() {
    try (TopicReader reader = bus.readerOfAll(Topics.ALERTS, new FromTheInbox())) {
      while (!closing) {
        List<Message> messages = reader.poll(WAIT);
        if (!messages.isEmpty()) {
          desk.take(Topics.ALERTS, messages);
        }
      }
    }
  }

  @Override
  public void close() {
    closing = true;
  }

  private final class FromTheInbox implements Assignment {
    @Override
    public Map<Integer, Long> assigned(Collection<Integer> partitions) {
      return journal.inbox(Topics.ALERTS);
    }

    @Override
    public void revoked(Collection<Integer> partitions) {
      // the journal keeps what was taken
    }
  }
}

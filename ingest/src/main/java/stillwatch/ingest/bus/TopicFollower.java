package stillwatch.ingest.bus;

import java.time.Duration;
import java.util.List;
import java.util.function.Consumer;

/** Reads a topic until it is closed and hands on what comes. One thread runs it. */
public final class TopicFollower implements Runnable, AutoCloseable {
  private static final Duration WAIT = Duration.ofMillis(100);

  private final Bus bus;
  private final String topic;
  private final Assignment from;
  private final Consumer<List<Message>> taking;
  private final Runnable alive;
  private volatile boolean closing;

  /**
   * A follower of a topic.
   *
   * @param from where it begins
   * @param taking gets what came, in order per partition; never an empty list
   * @param alive told several times a second, for as long as what came is taken and the broker is
   *     asked for more
   */
  public TopicFollower(
      Bus bus, String topic, Assignment from, Consumer<List<Message>> taking, Runnable alive) {
    this.bus = bus;
    this.topic = topic;
    this.from = from;
    this.taking = taking;
    this.alive = alive;
  }

  @Override
  public void run() {
    try (TopicReader reader = bus.readerOfAll(topic, from)) {
      while (!closing) {
        List<Message> messages = reader.poll(WAIT);
        if (!messages.isEmpty()) {
          taking.accept(messages);
        }
        alive.run();
      }
    }
  }

  @Override
  public void close() {
    closing = true;
  }
}

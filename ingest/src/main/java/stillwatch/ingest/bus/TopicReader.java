package stillwatch.ingest.bus;

import java.time.Duration;
import java.util.List;
import java.util.Map;

/** Reads one topic, in order per partition. One thread at a time. */
public interface TopicReader extends AutoCloseable {
  /** The next messages, waiting at most that long; empty when there are none. */
  List<Message> poll(Duration atMost);

  /**
   * For each partition held now, the offset after its last message at this moment: a reader that
   * has passed them all has caught up.
   */
  Map<Integer, Long> endOffsets();

  /** Whether everything before these offsets has been polled, where the broker still has it. */
  boolean passed(Map<Integer, Long> ends);

  @Override
  void close();
}

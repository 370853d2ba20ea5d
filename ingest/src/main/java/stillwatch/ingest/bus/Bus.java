package stillwatch.ingest.bus;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;

/** A broker: makes the topics, and writers and readers on them. */
public interface Bus extends AutoCloseable {
  /** Creates the topics that are missing; returns when they exist. */
  void createTopics(int partitions, int replicas);

  /** A writer on a topic (idempotent, acknowledged by all in-sync replicas). */
  TopicWriter writer(String topic);

  /**
   * A writer on a topic which never gives up a message: while the broker is away it goes on trying,
   * in order, until it is closed.
   */
  TopicWriter patientWriter(String topic);

  /**
   * A writer for one process at a time. Opening it shuts out whoever has it open under the same
   * name: what that one has begun and not finished is undone, and nothing more of it is taken, even
   * when it only stood still and goes on later.
   *
   * @throws BusException when the broker does not answer, or does not allow it
   */
  SoleWriter soleWriter(String topic, String name);

  /** A reader that shares the topic's partitions with the other members of the group. */
  TopicReader reader(String topic, String group, Assignment assignment);

  /** A reader of all partitions of the topic, whoever else reads. */
  TopicReader readerOfAll(String topic, Assignment assignment);

  /** The newest message of a topic that matches; searches backwards from the end. */
  Optional<Message> last(String topic, Predicate<Message> such);

  /** The newest messages of a topic, at most so many of each partition, in order. */
  List<Message> newest(String topic, int most);

  /** Why the broker does not answer within that time; empty when it does. */
  Optional<String> fault(Duration within);

  @Override
  void close();
}

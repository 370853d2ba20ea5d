package stillwatch.bench.faults;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import java.util.function.Predicate;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.SoleWriter;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.TopicWriter;

/**
 * A broker of one partition a topic in the memory of one thread, with the promises that the real
 * one gives: what a name writes is taken whole or not at all, and not after somebody else has taken
 * the name over. Whatever is about to be done at it may be made to fail.
 */
final class MemoryBus implements Bus {
  private static final int MOST_AT_ONCE = 400;

  private final Map<String, List<Message>> topics = new HashMap<>();
  private final Map<String, Integer> holders = new HashMap<>();
  private final Random random;
  private Weather weather = (moment, reader) -> {};

  /** What is about to be done, or has just been. */
  enum Moment {
    /** A member of a group asks for more. */
    POLL,
    /** Nothing more is there for a member of a group. */
    DRY,
    /** Messages are about to be taken. */
    WRITING,
    /** Messages were taken, and whoever gave them has not been told yet. */
    WRITTEN
  }

  /** What happens at such moments. It ends the one who asks by throwing. */
  interface Weather {
    /** Told before anything is done. */
    void at(Moment moment, Reader reader);
  }

  /** The end of somebody, whom nothing more is told. */
  static final class Killed extends RuntimeException {
    private static final long serialVersionUID = 1L;

    Killed(String why) {
      super(why);
    }
  }

  /** A broker that gives as many messages at once as this draws. */
  MemoryBus(Random random) {
    this.random = random;
  }

  /** Sets what happens from now on; gives what happened before. */
  Weather weather(Weather now) {
    Weather before = weather;
    weather = now;
    return before;
  }

  /** What a topic holds. */
  List<Message> topic(String name) {
    return topics.computeIfAbsent(name, n -> new ArrayList<>());
  }

  /** Appends to a topic. */
  void append(String topic, Message m) {
    List<Message> all = topic(topic);
    all.add(new Message(0, all.size(), m.key(), m.value(), m.headers()));
  }

  @Override
  public void createTopics(int partitions, int replicas) {
    // a topic is there as soon as it is named
  }

  @Override
  public TopicWriter writer(String topic) {
    return new TopicWriter() {
      @Override
      public CompletableFuture<Void> append(Message message) {
        MemoryBus.this.append(topic, message);
        return CompletableFuture.completedFuture(null);
      }

      @Override
      public void flush() {
        // nothing waits
      }

      @Override
      public void close() {
        // nothing is held
      }
    };
  }

  @Override
  public TopicWriter patientWriter(String topic) {
    return writer(topic);
  }

  @Override
  public SoleWriter soleWriter(String topic, String name) {
    int holder = holders.merge(name, 1, Integer::sum);
    return new SoleWriter() {
      @Override
      public void write(List<Message> messages) {
        weather.at(Moment.WRITING, new Reader(topic, Assignment.FROM_THE_START, false));
        if (holders.getOrDefault(name, 0) != holder) {
          throw new Killed("somebody else writes as " + name);
        }
        messages.forEach(m -> MemoryBus.this.append(topic, m));
        weather.at(Moment.WRITTEN, new Reader(topic, Assignment.FROM_THE_START, false));
      }

      @Override
      public void close() {
        // the name stays with whoever took it last
      }
    };
  }

  @Override
  public TopicReader reader(String topic, String group, Assignment assignment) {
    return new Reader(topic, assignment, true);
  }

  @Override
  public TopicReader readerOfAll(String topic, Assignment assignment) {
    return new Reader(topic, assignment, false);
  }

  @Override
  public Optional<Message> last(String topic, Predicate<Message> such) {
    List<Message> all = topic(topic);
    for (int i = all.size() - 1; i >= 0; i--) {
      if (such.test(all.get(i))) {
        return Optional.of(all.get(i));
      }
    }
    return Optional.empty();
  }

  @Override
  public List<Message> newest(String topic, int most) {
    List<Message> all = topic(topic);
    return List.copyOf(all.subList(Math.max(0, all.size() - most), all.size()));
  }

  @Override
  public Optional<String> fault(Duration within) {
    return Optional.empty();
  }

  @Override
  public void close() {
    // the topics are kept, as a broker keeps them
  }

  /** Reads a topic. */
  final class Reader implements TopicReader {
    private final String topic;
    private final Assignment assignment;
    private final boolean grouped;
    private long next = -1;

    Reader(String topic, Assignment assignment, boolean grouped) {
      this.topic = topic;
      this.assignment = assignment;
      this.grouped = grouped;
    }

    /** Takes the partition away and gives it back. */
    void rebalance() {
      assignment.revoked(List.of(0));
      next = -1;
    }

    @Override
    public List<Message> poll(Duration atMost) {
      if (grouped) {
        weather.at(Moment.POLL, this);
      }
      if (next < 0) {
        next = assignment.assigned(List.of(0)).getOrDefault(0, 0L);
      }
      List<Message> all = topic(topic);
      if (grouped && next >= all.size()) {
        weather.at(Moment.DRY, this);
      }
      int from = (int) next;
      int to = Math.min(all.size(), from + 1 + random.nextInt(MOST_AT_ONCE));
      next = to;
      return List.copyOf(all.subList(from, to));
    }

    @Override
    public Map<Integer, Long> endOffsets() {
      return Map.of(0, (long) topic(topic).size());
    }

    @Override
    public boolean passed(Map<Integer, Long> ends) {
      return next >= ends.getOrDefault(0, 0L);
    }

    @Override
    public void close() {
      // nothing is held
    }
  }
}

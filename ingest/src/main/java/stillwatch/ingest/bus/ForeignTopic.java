package stillwatch.ingest.bus;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.Set;
import org.apache.kafka.clients.consumer.CloseOptions;
import org.apache.kafka.clients.consumer.ConsumerConfig;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.ConsumerRecords;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.clients.consumer.OffsetAndMetadata;
import org.apache.kafka.clients.consumer.OffsetAndTimestamp;
import org.apache.kafka.clients.consumer.OffsetOutOfRangeException;
import org.apache.kafka.common.KafkaException;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.errors.AuthenticationException;
import org.apache.kafka.common.errors.AuthorizationException;
import org.apache.kafka.common.errors.TimeoutException;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.apache.kafka.common.serialization.StringDeserializer;
import org.jspecify.annotations.Nullable;

/**
 * A topic of somebody else's broker, all of its partitions, from where its reader said that it has
 * everything before. One thread at a time.
 */
public final class ForeignTopic implements AutoCloseable {
  private static final Duration PATIENCE = Duration.ofSeconds(10);
  private static final long LOOKED_AT_EVERY_NS = 10_000_000_000L;

  private final String servers;
  private final String topic;
  private final KafkaConsumer<String, byte[]> consumer;
  private long lookedAtNs = System.nanoTime();

  /**
   * A message.
   *
   * @param key empty where it has none
   * @param value null where it has none
   * @param timeMs when it was made, or came to the broker, as that has it; ms since 1970 UTC, below
   *     0 where it does not say
   */
  public record Entry(String key, byte @Nullable [] value, long timeMs) {}

  /**
   * What came.
   *
   * @param entries in order per partition
   * @param dropped a sentence for each partition of which the broker has no longer what comes next
   */
  public record Batch(List<Entry> entries, List<String> dropped) {}

  private ForeignTopic(String servers, String topic, KafkaConsumer<String, byte[]> consumer) {
    this.servers = servers;
    this.topic = topic;
    this.consumer = consumer;
  }

  /**
   * Opens it.
   *
   * @param group under this name the broker keeps how far it was read
   * @param fromMs where the broker knows nothing of the group: from which time on, ms since 1970
   *     UTC; empty for what comes from now on
   * @throws BusException when it cannot be read
   */
  public static ForeignTopic open(
      BusSettings settings, String topic, String group, OptionalLong fromMs) {
    if (Greeting.wantsTls(settings.bootstrap(), settings.client())) {
      throw new BusException(
          "the broker at "
              + settings.bootstrap()
              + " wants TLS; give a file with security.protocol=SSL or SASL_SSL as client-properties",
          null);
    }
    Map<String, Object> all = new HashMap<>(settings.client());
    all.put(ConsumerConfig.BOOTSTRAP_SERVERS_CONFIG, settings.bootstrap());
    all.put(ConsumerConfig.GROUP_ID_CONFIG, group);
    all.put(ConsumerConfig.ENABLE_AUTO_COMMIT_CONFIG, false);
    all.put(ConsumerConfig.AUTO_OFFSET_RESET_CONFIG, "none");
    all.put(ConsumerConfig.ALLOW_AUTO_CREATE_TOPICS_CONFIG, false);
    all.put(ConsumerConfig.ISOLATION_LEVEL_CONFIG, "read_committed");
    all.put(ConsumerConfig.MAX_POLL_RECORDS_CONFIG, 1000);
    all.put(ConsumerConfig.METADATA_MAX_AGE_CONFIG, 30_000);
    all.put(ConsumerConfig.DEFAULT_API_TIMEOUT_MS_CONFIG, (int) PATIENCE.toMillis());
    all.put(ConsumerConfig.REQUEST_TIMEOUT_MS_CONFIG, (int) PATIENCE.toMillis() - 1000);
    ForeignTopic opened;
    try {
      opened =
          new ForeignTopic(
              settings.bootstrap(),
              topic,
              new KafkaConsumer<>(all, new StringDeserializer(), new ByteArrayDeserializer()));
    } catch (KafkaException e) {
      throw new BusException(innermost(e) + "; correct client-properties", e);
    }
    try {
      opened.begin(fromMs);
      return opened;
    } catch (KafkaException e) {
      opened.close();
      throw opened.told(e);
    } catch (RuntimeException e) {
      opened.close();
      throw e;
    }
  }

  private void begin(OptionalLong fromMs) {
    Set<TopicPartition> all = partitions();
    if (all.isEmpty()) {
      throw new BusException(
          "the broker at " + servers + " has no topic " + topic + "; make it, or correct the plan",
          null);
    }
    Map<TopicPartition, OffsetAndMetadata> kept = new HashMap<>();
    consumer
        .committed(all)
        .forEach(
            (p, offset) -> {
              if (offset != null) {
                kept.put(p, offset);
              }
            });
    Set<TopicPartition> fresh = new HashSet<>(all);
    fresh.removeAll(kept.keySet());
    Map<TopicPartition, Long> starts = new HashMap<>();
    if (!kept.isEmpty()) { // what is new since must be read from its beginning
      starts.putAll(consumer.beginningOffsets(fresh));
    } else {
      starts.putAll(consumer.endOffsets(fresh));
      fromMs.ifPresent(ms -> starts.putAll(since(fresh, ms)));
    }
    starts.forEach((p, offset) -> kept.put(p, new OffsetAndMetadata(offset)));
    consumer.assign(all);
    kept.forEach((p, offset) -> consumer.seek(p, offset));
    consumer.commitSync(kept); // so that a restart does not begin later
  }

  private Map<TopicPartition, Long> since(Collection<TopicPartition> partitions, long ms) {
    Map<TopicPartition, Long> asked = new HashMap<>();
    partitions.forEach(p -> asked.put(p, ms));
    Map<TopicPartition, Long> found = new HashMap<>();
    for (Map.Entry<TopicPartition, OffsetAndTimestamp> e :
        consumer.offsetsForTimes(asked).entrySet()) {
      if (e.getValue() != null) { // a partition with nothing since has none
        found.put(e.getKey(), e.getValue().offset());
      }
    }
    return found;
  }

  private Set<TopicPartition> partitions() {
    Set<TopicPartition> all = new HashSet<>();
    consumer.partitionsFor(topic).forEach(p -> all.add(new TopicPartition(topic, p.partition())));
    return all;
  }

  /**
   * What comes next, waiting at most that long.
   *
   * @throws BusException when it cannot be read on
   */
  public Batch poll(Duration atMost) {
    try {
      look();
      ConsumerRecords<String, byte[]> records = consumer.poll(atMost);
      List<Entry> entries = new ArrayList<>(records.count());
      for (ConsumerRecord<String, byte[]> r : records) {
        entries.add(new Entry(r.key() == null ? "" : r.key(), r.value(), r.timestamp()));
      }
      return new Batch(entries, List.of());
    } catch (OffsetOutOfRangeException e) {
      return new Batch(List.of(), skipped(e));
    } catch (KafkaException e) {
      throw told(e);
    }
  }

  /** Goes on at the oldest message that there still is. */
  private List<String> skipped(OffsetOutOfRangeException gone) {
    List<String> dropped = new ArrayList<>();
    gone.offsetOutOfRangePartitions()
        .forEach(
            (p, offset) -> {
              consumer.seekToBeginning(Set.of(p));
              dropped.add(
                  "the broker at %s no longer has messages %d to %d of partition %d of topic %s; have it keep them for longer"
                      .formatted(servers, offset, consumer.position(p) - 1, p.partition(), topic));
            });
    return dropped;
  }

  /**
   * Asks whether the broker is there, for a poll does not say, and whether it has partitions more.
   */
  private void look() {
    if (System.nanoTime() - lookedAtNs >= LOOKED_AT_EVERY_NS) {
      consumer.endOffsets(consumer.assignment());
      Set<TopicPartition> all = partitions();
      Set<TopicPartition> fresh = new HashSet<>(all);
      fresh.removeAll(consumer.assignment());
      if (!fresh.isEmpty()) {
        Map<TopicPartition, Long> at = new HashMap<>();
        consumer.assignment().forEach(p -> at.put(p, consumer.position(p)));
        consumer.assign(all);
        at.forEach(consumer::seek);
        consumer.seekToBeginning(fresh);
      }
      lookedAtNs = System.nanoTime();
    }
  }

  /**
   * Tells the broker that everything that came so far need not come again.
   *
   * @throws BusException when it does not hear it
   */
  public void kept() {
    try {
      consumer.commitSync(PATIENCE);
    } catch (KafkaException e) {
      throw told(e);
    }
  }

  private BusException told(KafkaException e) {
    String broker = "the broker at " + servers;
    if (e instanceof AuthenticationException) {
      return new BusException(
          broker + " does not let this watch in (" + innermost(e) + "); correct client-properties",
          e);
    }
    if (e instanceof AuthorizationException) {
      return new BusException(
          broker
              + " does not allow it ("
              + innermost(e)
              + "); have it allow reading the topic and the group, or correct the plan",
          e);
    }
    if (e instanceof TimeoutException) {
      return new BusException(
          broker + " does not answer; check that it runs, and 'servers' in the plan", e);
    }
    return new BusException(broker + ": " + innermost(e), e);
  }

  private static String innermost(Throwable e) {
    Throwable in = e;
    while (in.getCause() != null) {
      in = in.getCause();
    }
    return in.getMessage() == null ? in.getClass().getSimpleName() : in.getMessage();
  }

  @Override
  public void close() {
    consumer.close(CloseOptions.timeout(Duration.ofSeconds(1)));
  }
}

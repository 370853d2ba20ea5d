package stillwatch.ingest.bus;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.Predicate;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.NewTopic;
import org.apache.kafka.clients.consumer.ConsumerConfig;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerConfig;
import org.apache.kafka.common.KafkaException;
import org.apache.kafka.common.KafkaFuture;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.config.TopicConfig;
import org.apache.kafka.common.errors.TopicExistsException;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.apache.kafka.common.serialization.StringDeserializer;
import org.apache.kafka.common.serialization.StringSerializer;

/** A Kafka broker or cluster. Safe from any thread. */
public final class KafkaBus implements Bus {
  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final int TRANSACTION_TIMEOUT_MS = 10_000;
  private static final long DAY_MS = Duration.ofDays(1).toMillis();

  private final BusSettings settings;
  private final Admin admin;

  private KafkaBus(BusSettings settings) {
    this.settings = settings;
    admin = Admin.create(properties(Map.of()));
  }

  /**
   * Opens the way to a broker; nothing is sent yet.
   *
   * @throws IllegalArgumentException when its address or the client's properties cannot be used
   */
  public static KafkaBus open(BusSettings settings) {
    try {
      return new KafkaBus(settings);
    } catch (KafkaException e) {
      Throwable why = e.getCause() == null ? e : e.getCause();
      throw new IllegalArgumentException(why.getMessage(), e);
    }
  }

  private Map<String, Object> properties(Map<String, Object> own) {
    Map<String, Object> all = new HashMap<>(settings.client());
    all.putAll(own);
    all.put("bootstrap.servers", settings.bootstrap());
    return all;
  }

  @Override
  public void createTopics(int partitions, int replicas) {
    List<NewTopic> topics =
        List.of(
            topic(Topics.TELEMETRY, partitions, replicas, 90),
            topic(Topics.ALERTS, partitions, replicas, 400),
            topic(Topics.REJECTS, 1, replicas, 30),
            topic(Topics.PROGRESS, 1, replicas, 1),
            topic(Topics.REVIEWS, 1, replicas, 30));
    admin.createTopics(topics).values().forEach(this::awaitCreated);
  }

  private void awaitCreated(String topic, KafkaFuture<Void> done) {
    try {
      done.get(PATIENCE.toSeconds(), TimeUnit.SECONDS);
    } catch (ExecutionException e) {
      if (!(e.getCause() instanceof TopicExistsException)) {
        throw new BusException("topic " + topic + " could not be created: " + e.getMessage(), e);
      }
    } catch (TimeoutException e) {
      throw unreachable(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new BusException("interrupted while creating topic " + topic, e);
    }
  }

  /** Retention runs on the broker's clock: recordings carry times long past. */
  private static NewTopic topic(String name, int partitions, int replicas, int days) {
    Map<String, String> settings = new HashMap<>();
    settings.put(TopicConfig.RETENTION_MS_CONFIG, Long.toString(days * DAY_MS));
    settings.put(TopicConfig.MESSAGE_TIMESTAMP_TYPE_CONFIG, "LogAppendTime");
    if (name.equals(Topics.ALERTS)) { // few, and a desk that has one may not be ahead of the disk
      settings.put(TopicConfig.FLUSH_MESSAGES_INTERVAL_CONFIG, "1");
    }
    return new NewTopic(name, partitions, (short) replicas).configs(settings);
  }

  private BusException unreachable(Exception why) {
    return new BusException(
        "the broker at "
            + settings.bootstrap()
            + " does not answer; check that it runs and the address",
        why);
  }

  @Override
  public TopicWriter writer(String topic) {
    return writer(topic, 120_000);
  }

  @Override
  public TopicWriter patientWriter(String topic) {
    return writer(topic, Integer.MAX_VALUE);
  }

  private TopicWriter writer(String topic, int deliveryTimeoutMs) {
    return new KafkaTopicWriter(
        topic,
        producer(
            Map.of(
                ProducerConfig.LINGER_MS_CONFIG,
                5,
                ProducerConfig.DELIVERY_TIMEOUT_MS_CONFIG,
                deliveryTimeoutMs)));
  }

  @Override
  public SoleWriter soleWriter(String topic, String name) {
    return new KafkaSoleWriter(
        topic,
        name,
        producer(
            Map.of(
                ProducerConfig.TRANSACTIONAL_ID_CONFIG,
                name,
                ProducerConfig.TRANSACTION_TIMEOUT_CONFIG,
                TRANSACTION_TIMEOUT_MS)));
  }

  private KafkaProducer<String, byte[]> producer(Map<String, Object> own) {
    Map<String, Object> all = new HashMap<>(own);
    all.put(ProducerConfig.ACKS_CONFIG, "all");
    all.put(ProducerConfig.ENABLE_IDEMPOTENCE_CONFIG, true);
    return new KafkaProducer<>(properties(all), new StringSerializer(), new ByteArraySerializer());
  }

  private KafkaConsumer<String, byte[]> consumer(Map<String, Object> own) {
    Map<String, Object> all = new HashMap<>(own);
    all.put(ConsumerConfig.ENABLE_AUTO_COMMIT_CONFIG, false);
    all.put(ConsumerConfig.AUTO_OFFSET_RESET_CONFIG, "earliest");
    all.put(ConsumerConfig.ISOLATION_LEVEL_CONFIG, "read_committed");
    all.put(ConsumerConfig.MAX_POLL_RECORDS_CONFIG, 2000);
    all.put(ConsumerConfig.FETCH_MAX_WAIT_MS_CONFIG, 100);
    return new KafkaConsumer<>(
        properties(all), new StringDeserializer(), new ByteArrayDeserializer());
  }

  @Override
  public TopicReader reader(String topic, String group, Assignment assignment) {
    Map<String, Object> own = new HashMap<>();
    own.put(ConsumerConfig.GROUP_ID_CONFIG, group);
    own.put(ConsumerConfig.SESSION_TIMEOUT_MS_CONFIG, 10_000);
    String member = settings.member();
    if (member != null) {
      own.put(ConsumerConfig.GROUP_INSTANCE_ID_CONFIG, member);
    }
    return KafkaTopicReader.ofGroup(topic, consumer(own), assignment);
  }

  @Override
  public TopicReader readerOfAll(String topic, Assignment assignment) {
    KafkaConsumer<String, byte[]> consumer = consumer(Map.of());
    return KafkaTopicReader.ofAll(consumer, partitions(topic, consumer), assignment);
  }

  private static Set<TopicPartition> partitions(
      String topic, KafkaConsumer<String, byte[]> consumer) {
    Set<TopicPartition> all = new HashSet<>();
    consumer
        .partitionsFor(topic, PATIENCE)
        .forEach(p -> all.add(new TopicPartition(topic, p.partition())));
    return all;
  }

  @Override
  public Optional<Message> last(String topic, Predicate<Message> such) {
    try (KafkaConsumer<String, byte[]> consumer = consumer(Map.of())) {
      Set<TopicPartition> partitions = partitions(topic, consumer);
      Map<TopicPartition, Long> starts = consumer.beginningOffsets(partitions);
      TopicReader reader = KafkaTopicReader.ofAll(consumer, partitions, Assignment.FROM_THE_START);
      Map<Integer, Long> ends = reader.endOffsets();
      Optional<Message> last = Optional.empty();
      boolean whole = false;
      for (long back = 100; last.isEmpty() && !whole; back *= 10) {
        whole = true;
        for (TopicPartition p : partitions) {
          long start = starts.getOrDefault(p, 0L);
          long from = Math.max(start, ends.getOrDefault(p.partition(), 0L) - back);
          whole &= from == start;
          consumer.seek(p, from);
        }
        last = lastOf(such, reader, ends);
      }
      return last;
    }
  }

  @Override
  public List<Message> newest(String topic, int most) {
    try (KafkaConsumer<String, byte[]> consumer = consumer(Map.of())) {
      Set<TopicPartition> partitions = partitions(topic, consumer);
      Map<TopicPartition, Long> starts = consumer.beginningOffsets(partitions);
      TopicReader reader = KafkaTopicReader.ofAll(consumer, partitions, Assignment.FROM_THE_START);
      Map<Integer, Long> ends = reader.endOffsets();
      for (TopicPartition p : partitions) {
        long start = starts.getOrDefault(p, 0L);
        consumer.seek(p, Math.max(start, ends.getOrDefault(p.partition(), 0L) - most));
      }
      List<Message> all = new ArrayList<>();
      while (!reader.passed(ends)) {
        all.addAll(reader.poll(Duration.ofMillis(200)));
      }
      return all;
    }
  }

  private static Optional<Message> lastOf(
      Predicate<Message> such, TopicReader reader, Map<Integer, Long> ends) {
    Optional<Message> last = Optional.empty();
    while (!reader.passed(ends)) {
      for (Message m : reader.poll(Duration.ofMillis(200))) {
        last = such.test(m) ? Optional.of(m) : last;
      }
    }
    return last;
  }

  @Override
  public Optional<String> fault(Duration within) {
    try {
      return admin.describeCluster().nodes().get(within.toMillis(), TimeUnit.MILLISECONDS).isEmpty()
          ? Optional.of("it knows no broker")
          : Optional.empty();
    } catch (ExecutionException e) {
      return Optional.of(String.valueOf(e.getCause() == null ? e : e.getCause().getMessage()));
    } catch (TimeoutException e) {
      return Optional.of("no answer within " + within.toSeconds() + " s");
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return Optional.of("interrupted");
    }
  }

  @Override
  public void close() {
    admin.close(Duration.ofSeconds(1));
  }
}

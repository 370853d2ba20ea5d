package stillwatch.ingest.bus;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.apache.kafka.clients.consumer.CloseOptions;
import org.apache.kafka.clients.consumer.ConsumerRebalanceListener;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.ConsumerRecords;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.header.Header;

/** Reads a Kafka topic. One thread at a time. */
final class KafkaTopicReader implements TopicReader {
  private final KafkaConsumer<String, byte[]> consumer;

  private KafkaTopicReader(KafkaConsumer<String, byte[]> consumer) {
    this.consumer = consumer;
  }

  static TopicReader ofGroup(
      String topic, KafkaConsumer<String, byte[]> consumer, Assignment assignment) {
    consumer.subscribe(
        List.of(topic),
        new ConsumerRebalanceListener() {
          @Override
          public void onPartitionsRevoked(Collection<TopicPartition> partitions) {
            assignment.revoked(numbers(partitions));
          }

          @Override
          public void onPartitionsAssigned(Collection<TopicPartition> partitions) {
            seek(consumer, partitions, assignment);
          }
        });
    return new KafkaTopicReader(consumer);
  }

  static TopicReader ofAll(
      KafkaConsumer<String, byte[]> consumer,
      Set<TopicPartition> partitions,
      Assignment assignment) {
    consumer.assign(partitions);
    seek(consumer, partitions, assignment);
    return new KafkaTopicReader(consumer);
  }

  private static void seek(
      KafkaConsumer<String, byte[]> consumer,
      Collection<TopicPartition> partitions,
      Assignment assignment) {
    Map<Integer, Long> starts = assignment.assigned(numbers(partitions));
    for (TopicPartition p : partitions) {
      Long start = starts.get(p.partition());
      if (start == null) {
        consumer.seekToBeginning(Set.of(p));
      } else {
        consumer.seek(p, start);
      }
    }
  }

  private static List<Integer> numbers(Collection<TopicPartition> partitions) {
    return partitions.stream().map(TopicPartition::partition).toList();
  }

  @Override
  public List<Message> poll(Duration atMost) {
    return messages(consumer.poll(atMost));
  }

  static List<Message> messages(ConsumerRecords<String, byte[]> records) {
    List<Message> messages = new ArrayList<>(records.count());
    for (ConsumerRecord<String, byte[]> r : records) {
      Map<String, String> headers = new HashMap<>(4);
      for (Header h : r.headers()) {
        headers.put(
            h.key(), h.value() == null ? "" : new String(h.value(), StandardCharsets.UTF_8));
      }
      messages.add(
          new Message(
              r.partition(),
              r.offset(),
              r.key() == null ? "" : r.key(),
              r.value() == null ? new byte[0] : r.value(),
              headers));
    }
    return messages;
  }

  @Override
  public Map<Integer, Long> endOffsets() {
    Map<Integer, Long> ends = new HashMap<>();
    consumer.endOffsets(consumer.assignment()).forEach((p, end) -> ends.put(p.partition(), end));
    return ends;
  }

  @Override
  public boolean passed(Map<Integer, Long> ends) {
    return consumer.assignment().stream()
        .allMatch(p -> consumer.position(p) >= ends.getOrDefault(p.partition(), 0L));
  }

  @Override
  public void close() {
    consumer.close(CloseOptions.timeout(Duration.ofSeconds(1)));
  }
}

package stillwatch.ingest.bus;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.concurrent.CompletableFuture;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;

/** Appends to a Kafka topic. Safe from any thread. */
final class KafkaTopicWriter implements TopicWriter {
  private final String topic;
  private final KafkaProducer<String, byte[]> producer;

  KafkaTopicWriter(String topic, KafkaProducer<String, byte[]> producer) {
    this.topic = topic;
    this.producer = producer;
  }

  @Override
  public CompletableFuture<Void> append(Message message) {
    CompletableFuture<Void> done = new CompletableFuture<>();
    var unused =
        producer.send(
            record(topic, message),
            (place, fault) -> {
              if (fault == null) {
                done.complete(null);
              } else {
                done.completeExceptionally(fault);
              }
            });
    return done;
  }

  static ProducerRecord<String, byte[]> record(String topic, Message message) {
    ProducerRecord<String, byte[]> record =
        new ProducerRecord<>(topic, message.key(), message.value());
    message
        .headers()
        .forEach(
            (name, value) -> record.headers().add(name, value.getBytes(StandardCharsets.UTF_8)));
    return record;
  }

  @Override
  public void flush() {
    producer.flush();
  }

  @Override
  public void close() {
    producer.close(Duration.ofSeconds(1));
  }
}

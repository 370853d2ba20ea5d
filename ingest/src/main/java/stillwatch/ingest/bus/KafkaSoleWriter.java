package stillwatch.ingest.bus;

import java.time.Duration;
import java.util.List;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.common.KafkaException;

/** Appends to a Kafka topic in transactions, which shut out an earlier holder of the name. */
final class KafkaSoleWriter implements SoleWriter {
  private final String topic;
  private final String name;
  private final KafkaProducer<String, byte[]> producer;

  /** Takes the name over; what an earlier holder left unfinished is undone before it returns. */
  KafkaSoleWriter(String topic, String name, KafkaProducer<String, byte[]> producer) {
    this.topic = topic;
    this.name = name;
    this.producer = producer;
    try {
      producer.initTransactions();
    } catch (KafkaException e) {
      close();
      throw new BusException(
          "the name "
              + name
              + " could not be taken over ("
              + e.getMessage()
              + "); check that the broker runs and allows transactions",
          e);
    }
  }

  @Override
  public void write(List<Message> messages) {
    try {
      producer.beginTransaction();
      for (Message m : messages) {
        var unused = producer.send(KafkaTopicWriter.record(topic, m)); // a fault ends the commit
      }
      producer.commitTransaction();
    } catch (KafkaException e) {
      throw new BusException(
          "%s messages could not be written to %s as %s: %s"
              .formatted(messages.size(), topic, name, e.getMessage()),
          e);
    }
  }

  @Override
  public void close() {
    producer.close(Duration.ofSeconds(1));
  }
}

package stillwatch.station.broker;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusException;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.SoleWriter;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;

/** The embedded broker and the bus on it, both real. */
class EmbeddedBrokerTest {
  @TempDir Path folder;

  @Test
  @Timeout(value = 120, unit = TimeUnit.SECONDS)
  void whatWasWrittenIsReadInOrderAndOutlivesTheBroker() throws Exception {
    try (EmbeddedBroker broker = EmbeddedBroker.start(folder).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
      bus.createTopics(2, 1);
      bus.createTopics(2, 1);
      try (TopicWriter writer = bus.writer(Topics.TELEMETRY)) {
        for (int i = 0; i < 100; i++) {
          writer.append(Message.of("larkspur-2", text(i), Map.of("format", "test"))).get();
        }
      }
    }
    try (EmbeddedBroker broker = EmbeddedBroker.start(folder).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()));
        TopicReader reader = bus.reader(Topics.TELEMETRY, "test", Assignment.FROM_THE_START)) {
      List<String> read = new ArrayList<>();
      while (read.size() < 100) {
        reader
            .poll(Duration.ofMillis(100))
            .forEach(m -> read.add(new String(m.value(), StandardCharsets.UTF_8)));
      }
      assertThat(read)
          .containsExactlyElementsOf(
              java.util.stream.IntStream.range(0, 100).mapToObj(i -> "entry " + i).toList());
      assertThat(bus.last(Topics.TELEMETRY, m -> m.key().equals("larkspur-2")))
          .hasValueSatisfying(m -> assertThat(m.value()).isEqualTo(text(99)));
      assertThat(bus.last(Topics.TELEMETRY, m -> m.key().equals("another"))).isEmpty();
    }
  }

  private static byte[] text(int i) {
    return ("entry " + i).getBytes(StandardCharsets.UTF_8);
  }

  @Test
  @Timeout(value = 120, unit = TimeUnit.SECONDS)
  void whoHeldANameBeforeIsShutOutAndWhatItLeftUnfinishedIsNotRead() throws Exception {
    try (EmbeddedBroker broker = EmbeddedBroker.start(folder).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
      bus.createTopics(1, 1);
      try (SoleWriter first = bus.soleWriter(Topics.ALERTS, "one")) {
        first.write(List.of(message(0), message(1)));
        try (SoleWriter second = bus.soleWriter(Topics.ALERTS, "one");
            SoleWriter other = bus.soleWriter(Topics.ALERTS, "two")) {
          assertThatThrownBy(() -> first.write(List.of(message(2))))
              .isInstanceOf(BusException.class);
          other.write(List.of(message(3)));
          second.write(List.of(message(4)));
        }
      }
      assertThat(bus.last(Topics.ALERTS, m -> Arrays.equals(m.value(), text(2)))).isEmpty();
      for (int i : List.of(0, 1, 3, 4)) {
        assertThat(bus.last(Topics.ALERTS, m -> Arrays.equals(m.value(), text(i)))).isPresent();
      }
    }
  }

  private static Message message(int i) {
    return Message.of("larkspur-2", text(i), Map.of());
  }
}

package stillwatch.station.run;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Map;
import java.util.concurrent.CompletionException;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.ingest.wire.TelemetryFormatException;
import stillwatch.station.broker.EmbeddedBroker;
import stillwatch.station.option.BrokerOption;
import stillwatch.station.option.InputException;

/** What a broker holds of the log now: the broker that was named, or that of a stopped watch. */
public final class KeptLog {
  private static final Logger LOG = LoggerFactory.getLogger(KeptLog.class);
  private static final Duration WAIT = Duration.ofMillis(200);

  private KeptLog() {}

  /**
   * The way to it; the shutdown ends what was started for it.
   *
   * @param data the folder of a watch, where no broker was named
   * @throws InputException when there is no log in the folder, or a watch is running on it
   */
  public static Bus open(BrokerOption broker, Path data, Shutdown shutdown) {
    if (broker.given()) {
      return shutdown.closes(broker.open());
    }
    if (!Files.isDirectory(data.resolve("broker"))) {
      throw new InputException(
          data + ": there is no watch's log here; give its folder with --data, or a --broker");
    }
    shutdown.closes(DataFolder.take(data));
    try {
      EmbeddedBroker embedded = EmbeddedBroker.start(data.resolve("broker")).join();
      shutdown.closes(embedded);
      return shutdown.closes(KafkaBus.open(new BusSettings(embedded.bootstrap(), Map.of())));
    } catch (CompletionException e) {
      throw e.getCause() instanceof RuntimeException cause ? cause : e;
    }
  }

  /** Everything a topic holds now. */
  public static void read(Bus bus, String topic, Consumer<Message> each) {
    try (TopicReader reader = bus.readerOfAll(topic, Assignment.FROM_THE_START)) {
      reader.poll(WAIT).forEach(each);
      Map<Integer, Long> ends = reader.endOffsets();
      while (!reader.passed(ends)) {
        reader.poll(WAIT).forEach(each);
      }
    }
  }

  /** A well's log up to now. Messages that cannot be read are left out, as the rules do. */
  public static TelemetrySource of(Bus bus, String well) {
    TopicReader reader = bus.readerOfAll(Topics.TELEMETRY, Assignment.FROM_THE_START);
    return new TelemetrySource() {
      private final TelemetryCodec codec = new TelemetryCodec();
      private final Deque<Telemetry> waiting = new ArrayDeque<>();
      private @Nullable Map<Integer, Long> ends;

      @Override
      public @Nullable Telemetry next() {
        while (waiting.isEmpty() && (ends == null || !reader.passed(ends))) {
          reader.poll(WAIT).forEach(this::take);
          ends = ends == null ? reader.endOffsets() : ends;
        }
        return waiting.poll();
      }

      private void take(Message m) {
        if (m.key().equals(well)) {
          try {
            waiting.add(codec.decode(m));
          } catch (TelemetryFormatException e) {
            LOG.debug("offset {} is left out: {}", m.offset(), e.getMessage());
          }
        }
      }

      @Override
      public void close() {
        reader.close();
      }
    };
  }
}

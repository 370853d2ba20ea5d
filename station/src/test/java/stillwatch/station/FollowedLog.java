package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;

/** The telemetry of a broker's log, read on as it grows. */
final class FollowedLog implements AutoCloseable {
  private final TelemetryCodec codec = new TelemetryCodec();
  private final TopicReader reader;
  private final Map<String, List<Frame>> frames = new TreeMap<>();
  private final List<Frame> all = new ArrayList<>();
  private final List<Telemetry> others = new ArrayList<>();

  private FollowedLog(Bus bus) {
    reader = bus.readerOfAll(Topics.TELEMETRY, Assignment.FROM_THE_START);
  }

  /** Follows it from its start. */
  static FollowedLog of(Bus bus) {
    bus.createTopics(1, 1);
    return new FollowedLog(bus);
  }

  void read() {
    for (Message m : reader.poll(Duration.ofMillis(100))) {
      Telemetry entry = codec.decode(m);
      if (entry instanceof Frame f) {
        frames.computeIfAbsent(String.join(" ", f.gauges().ids()), g -> new ArrayList<>()).add(f);
        all.add(f);
      } else if (!(entry instanceof Pulse)) {
        others.add(entry);
      }
    }
  }

  /** Reads on to where the log ends now. */
  void readOn() {
    Map<Integer, Long> ends = reader.endOffsets();
    while (!reader.passed(ends)) {
      read();
    }
  }

  /** The frames of just this gauge in the log as it is now. */
  List<Frame> now(String gauge) {
    readOn();
    return frames(gauge);
  }

  /** All frames of the log as it is now. */
  List<Frame> now() {
    readOn();
    return all;
  }

  /** Waits until it has so many frames of each, as long as whoever sends them does not fail. */
  void has(int count, Collection<String> gauges, CompletableFuture<Void> sending) {
    while (gauges.stream().anyMatch(g -> frames(g).size() < count)) {
      read();
      assertThat(sending).as("the sending").isNotCompletedExceptionally();
    }
  }

  /** The frames of just these gauges, their ids with blanks between. */
  List<Frame> frames(String gauges) {
    return frames.getOrDefault(gauges, List.of());
  }

  /** What is neither frame nor pulse. */
  List<Telemetry> others() {
    return others;
  }

  @Override
  public void close() {
    reader.close();
  }
}

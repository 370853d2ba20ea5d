package stillwatch.bench.faults;

import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.finding.FindingCodec;

/** Reads at a broker how far the rules have judged. One thread at a time. */
final class RulesProgress implements AutoCloseable {
  private String address = "";
  private @Nullable Bus bus;
  private @Nullable TopicReader reader;
  private long logMs;

  /**
   * Up to which reception time the rules say that they have judged, ms since 1970 UTC.
   *
   * @param brokerAddress where the broker is now; empty while there is none
   */
  long upToMs(Optional<String> brokerAddress) {
    try {
      brokerAddress.filter(now -> !now.equals(address)).ifPresent(this::open);
      if (reader != null) {
        for (Message m : reader.poll(Duration.ofMillis(100))) {
          logMs = Math.max(logMs, FindingCodec.decodeProgress(m.value()).logMs());
        }
      }
    } catch (RuntimeException e) { // the broker is not there yet, or not any more
      close();
    }
    return logMs;
  }

  private void open(String now) {
    close();
    Bus made = KafkaBus.open(new BusSettings(now, Map.of()));
    bus = made;
    if (made.fault(Duration.ofSeconds(1)).isPresent()) {
      close();
      return;
    }
    reader = made.readerOfAll(Topics.PROGRESS, Assignment.FROM_THE_START);
    address = now;
  }

  @Override
  public void close() {
    if (reader != null) {
      reader.close();
    }
    if (bus != null) {
      bus.close();
    }
    reader = null;
    bus = null;
    address = "";
  }
}

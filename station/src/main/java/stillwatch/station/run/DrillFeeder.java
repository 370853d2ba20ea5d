package stillwatch.station.run;

import java.io.IOException;
import java.time.Instant;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.station.option.InputException;

/**
 * Feeds a recording into the log as if it were live, some times faster. Each entry carries its
 * number in the recording, so that a feeder that is killed and started again goes on with the first
 * entry the log does not have. One thread runs it.
 */
public final class DrillFeeder implements Runnable, AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(DrillFeeder.class);
  private static final String NUMBER = "drill-entry";

  /** Every entry of a drill has this header: of which drill it is. */
  public static final String DRILL = "drill";

  private final Bus bus;
  private final TelemetrySource source;
  private final String drill;
  private final double speed;
  private final long fromMs;
  private final long already;
  private final TelemetryCodec codec = new TelemetryCodec();
  private final Moments moments = new Moments();
  private volatile boolean over;

  /**
   * A feeder.
   *
   * @param drill identifies the recording
   * @param speed log seconds per second of life
   * @param from what the recording has before this moment is fed at once; null for nothing
   * @throws InputException when the log holds entries of another drill, or live ones
   */
  public DrillFeeder(
      Bus bus,
      TelemetrySource source,
      String well,
      String drill,
      double speed,
      @Nullable Instant from) {
    this.bus = bus;
    this.source = source;
    this.drill = drill;
    this.speed = speed;
    fromMs = from == null ? Long.MIN_VALUE : from.toEpochMilli();
    already = already(well);
  }

  /** How many entries of this drill the log has; what people entered stands between them. */
  private long already(String well) {
    Optional<Message> any = bus.last(Topics.TELEMETRY, m -> m.key().equals(well));
    if (any.isEmpty()) {
      return 0;
    }
    Map<String, String> headers =
        bus.last(Topics.TELEMETRY, m -> m.key().equals(well) && m.headers().containsKey(DRILL))
            .orElse(any.get())
            .headers();
    if (!drill.equals(headers.get(DRILL))) {
      throw new InputException(
          "the log already holds other entries of "
              + well
              + "; give another folder with --data, or another broker");
    }
    return Long.parseLong(headers.getOrDefault(NUMBER, "-1")) + 1;
  }

  @Override
  public void run() {
    try (TopicWriter writer = bus.writer(Topics.TELEMETRY)) {
      feed(writer);
    } catch (IOException | RuntimeException e) { // the page says that no readings come
      LOG.error("the drill stopped: {}", e.getMessage());
    }
  }

  private void feed(TopicWriter writer) throws IOException {
    long number = 0;
    Telemetry entry = source.next();
    for (; entry != null && number < already; number++) {
      entry = source.next();
    }
    for (; entry != null && entry.receivedMs() < fromMs && !moments.ended(); number++) {
      append(entry, number, writer);
      entry = source.next();
    }
    long startNs = System.nanoTime();
    long startLogMs = entry == null ? 0 : entry.receivedMs();
    while (entry != null
        && moments.reach(startNs + (long) ((entry.receivedMs() - startLogMs) / speed * 1e6))) {
      append(entry, number++, writer);
      entry = source.next();
    }
    writer.flush();
    over = entry == null;
    if (over) {
      LOG.info("the drill is over; the page stays until Ctrl-C");
    }
  }

  private void append(@Nullable Telemetry entry, long number, TopicWriter writer) {
    if (entry == null) {
      return;
    }
    Message message = codec.encode(entry);
    Map<String, String> headers = new HashMap<>(message.headers());
    headers.put(DRILL, drill);
    headers.put(NUMBER, Long.toString(number));
    var unused =
        writer
            .append(Message.of(message.key(), message.value(), headers))
            .exceptionally(this::notTaken);
  }

  private @Nullable Void notTaken(Throwable fault) {
    LOG.error(
        "the broker did not take an entry of the drill, which ends here: {}", fault.getMessage());
    moments.end();
    return null;
  }

  /** Whether the whole recording is in the log. */
  public boolean over() {
    return over;
  }

  @Override
  public void close() {
    moments.end();
  }
}

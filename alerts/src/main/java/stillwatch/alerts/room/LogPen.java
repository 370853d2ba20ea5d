package stillwatch.alerts.room;

import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.LongSupplier;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;

/** Writes what people in the room did, saw and decided into the well's log. */
public final class LogPen implements AutoCloseable {
  private static final long PATIENCE_S = 5;

  private final TopicWriter writer;
  private final LongSupplier logMs;

  /**
   * A pen.
   *
   * @param logMs the time to put on entries: the log's own in a drill
   */
  public LogPen(Bus bus, LongSupplier logMs) {
    writer = bus.writer(Topics.TELEMETRY);
    this.logMs = logMs;
  }

  /** The time an entry made now has, ms since 1970 UTC. */
  long nowMs() {
    return logMs.getAsLong();
  }

  /**
   * Writes an entry; returns when the broker has it.
   *
   * @throws RequestException when it has not
   */
  void write(Telemetry entry) {
    try {
      writer.append(new TelemetryCodec().encode(entry)).get(PATIENCE_S, TimeUnit.SECONDS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new RequestException(503, "the watch is ending; nothing was entered");
    } catch (ExecutionException | TimeoutException e) {
      throw new RequestException(
          503, "the broker does not take it; it may not be in the log: try again");
    }
  }

  @Override
  public void close() {
    writer.close();
  }
}

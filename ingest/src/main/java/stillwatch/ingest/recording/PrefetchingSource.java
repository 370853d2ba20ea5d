package stillwatch.ingest.recording;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Telemetry;

/**
 * Reads another source ahead on a thread of its own, in the same order, so that decoding and rules
 * use two cores.
 */
public final class PrefetchingSource implements TelemetrySource {
  private static final int BATCH = 512;
  private static final int BATCHES = 16;

  private final TelemetrySource source;
  private final BlockingQueue<Batch> queue = new ArrayBlockingQueue<>(BATCHES);
  private final Thread reader;
  private Batch current = new Batch(List.of(), null, false);
  private int next;

  private record Batch(List<Telemetry> entries, @Nullable Exception fault, boolean last) {}

  /** Starts reading ahead; the source is closed with this one. */
  public PrefetchingSource(TelemetrySource source) {
    this.source = source;
    reader = new Thread(this::readAhead, "read-ahead");
    reader.setDaemon(true);
    reader.start();
  }

  private void readAhead() {
    try {
      Batch batch;
      do {
        batch = batch();
        queue.put(batch);
      } while (!batch.last());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt(); // closed early
    }
  }

  private Batch batch() {
    List<Telemetry> entries = new ArrayList<>(BATCH);
    try {
      while (entries.size() < BATCH) {
        Telemetry entry = source.next();
        if (entry == null) {
          return new Batch(entries, null, true);
        }
        entries.add(entry);
      }
      return new Batch(entries, null, false);
    } catch (IOException | RuntimeException e) {
      return new Batch(entries, e, true);
    }
  }

  @Override
  public @Nullable Telemetry next() throws IOException {
    while (next == current.entries().size()) {
      Exception fault = current.fault();
      if (fault instanceof IOException e) {
        throw e;
      }
      if (fault instanceof RuntimeException e) {
        throw e;
      }
      if (current.last()) {
        return null;
      }
      try {
        current = queue.take();
        next = 0;
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        throw new IOException("interrupted while reading ahead", e);
      }
    }
    return current.entries().get(next++);
  }

  @Override
  public void close() throws IOException {
    reader.interrupt();
    try {
      reader.join(1000);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    source.close();
  }
}

package stillwatch.ingest.bus;

import java.util.concurrent.CompletableFuture;

/** Appends to one topic, in order per key. Safe from any thread. */
public interface TopicWriter extends AutoCloseable {
  /**
   * Appends one message; completes when the broker has acknowledged it, exceptionally when it will
   * not.
   */
  CompletableFuture<Void> append(Message message);

  /** Waits until everything appended so far is acknowledged or has failed. */
  void flush();

  @Override
  void close();
}

package stillwatch.ingest.door;

import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/**
 * One connection after the other until it is closed: after one that failed a pause, each time twice
 * as long. One thread runs it; any may close it.
 */
final class Tries implements AutoCloseable {
  private static final long FIRST_PAUSE_MS = 500;
  private static final long LONGEST_PAUSE_MS = 30_000;

  private final Inlet inlet;
  private final CompletableFuture<Void> closing = new CompletableFuture<>();

  Tries(Inlet inlet) {
    this.inlet = inlet;
  }

  /** One connection, until it is lost. */
  interface Connecting {
    /** Returns whether there was one. */
    boolean once() throws InterruptedException;
  }

  /** Returns once it is closed. */
  void run(Connecting connecting) {
    long pauseMs = FIRST_PAUSE_MS;
    try {
      while (!closed()) {
        pauseMs = connecting.once() ? FIRST_PAUSE_MS : Math.min(LONGEST_PAUSE_MS, pauseMs * 2);
        pause(pauseMs);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } finally {
      inlet.health().closed();
    }
  }

  /** Returns after that time, or once it is closed. */
  void pause(long ms) throws InterruptedException {
    try {
      closing.get(ms, TimeUnit.MILLISECONDS);
    } catch (TimeoutException | ExecutionException e) {
      // time to go on
    }
  }

  boolean closed() {
    return closing.isDone();
  }

  @Override
  public void close() {
    closing.complete(null);
  }
}

package stillwatch.ingest.door;

import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/**
 * Connections of a source, one after the other until it is closed: after one that was lost the next
 * comes in half a second, after those that failed in twice as long each time, at most 30 s.
 */
public final class Attempts {
  private static final long FIRST_PAUSE_MS = 500;
  private static final long LONGEST_PAUSE_MS = 30_000;

  private final Inlet inlet;
  private final CompletableFuture<Void> closing = new CompletableFuture<>();

  /** Those of the source of this inlet. */
  public Attempts(Inlet inlet) {
    this.inlet = inlet;
  }

  /** One connection. */
  public interface Attempt {
    /**
     * Connects, and returns when that is lost or failed.
     *
     * @return whether there was a connection
     */
    boolean once() throws InterruptedException;
  }

  /** Opens the inlet and makes them, until {@link #close}. */
  public void run(Attempt attempt) {
    inlet.open();
    long pauseMs = FIRST_PAUSE_MS;
    try {
      while (!closed()) {
        pauseMs = attempt.once() ? FIRST_PAUSE_MS : Math.min(LONGEST_PAUSE_MS, pauseMs * 2);
        pause(pauseMs);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } finally {
      inlet.health().closed();
    }
  }

  /** Waits so long, or until the source is closed; whether it is. */
  public boolean pause(long ms) throws InterruptedException {
    try {
      closing.get(ms, TimeUnit.MILLISECONDS);
    } catch (TimeoutException | ExecutionException e) {
      // time to go on
    }
    return closed();
  }

  /** Says why there is no connection; nothing once the source is closed. */
  public void lost(String why) {
    if (!closed()) {
      inlet.health().lost(why);
    }
  }

  /** Whether the source is closed. */
  public boolean closed() {
    return closing.isDone();
  }

  /** Completes when the source is closed. */
  public CompletableFuture<Void> closing() {
    return closing;
  }

  /** No further connection is made. */
  public void close() {
    closing.complete(null);
  }
}

package stillwatch.station.run;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Ends a process that runs until it is told to stop: closes what was opened, last first, and no
 * longer than a person waits after Ctrl-C. What is not closed by then is as safe as after a crash.
 */
public final class Shutdown {
  private static final Logger LOG = LoggerFactory.getLogger(Shutdown.class);
  private static final long PATIENCE_MS = 2500;

  private final Deque<AutoCloseable> opened = new ArrayDeque<>();
  private boolean ended;

  /** Remembers what must be closed. */
  public synchronized <T extends AutoCloseable> T closes(T what) {
    opened.push(what);
    return what;
  }

  /** Waits until the process is told to stop. */
  public void await() {
    CountDownLatch never = new CountDownLatch(1);
    Runtime.getRuntime().addShutdownHook(new Thread(this::end, "ending"));
    try {
      never.await();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Closes everything, as far as the time allows. */
  public void end() {
    Thread closer = new Thread(this::closeAll, "closer");
    closer.setDaemon(true);
    closer.start();
    try {
      closer.join(PATIENCE_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private synchronized void closeAll() {
    if (ended) {
      return;
    }
    ended = true;
    long startNs = System.nanoTime();
    while (!opened.isEmpty()) {
      AutoCloseable next = opened.pop();
      try {
        next.close();
      } catch (Exception e) {
        LOG.warn("{} did not close cleanly: {}", next.getClass().getSimpleName(), e.toString());
      }
    }
    LOG.debug("closed in {} ms", TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - startNs));
  }
}

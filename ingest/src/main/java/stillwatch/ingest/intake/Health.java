package stillwatch.ingest.intake;

import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Whether a process does its work, asked once a second by a thread of its own, so that whoever
 * wants to know never waits for the answer. What has not been known for a while counts as no. Safe
 * from any thread.
 */
final class Health implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Health.class);
  private static final long OLD_NS = TimeUnit.SECONDS.toNanos(10);

  private final BooleanSupplier question;
  private final ScheduledExecutorService asking =
      Executors.newSingleThreadScheduledExecutor(
          r -> {
            Thread t = new Thread(r, "health");
            t.setDaemon(true);
            return t;
          });
  private volatile long goodNs = System.nanoTime() - OLD_NS;

  Health(BooleanSupplier question) {
    this.question = question;
    var unused = asking.scheduleWithFixedDelay(this::ask, 0, 1, TimeUnit.SECONDS);
  }

  private void ask() {
    try {
      goodNs = question.getAsBoolean() ? System.nanoTime() : System.nanoTime() - OLD_NS;
    } catch (RuntimeException e) { // thrown on, it would never be asked again
      LOG.warn("the health could not be found out: {}", e.toString());
    }
  }

  /** Whether it did its work when last asked, not long ago. */
  boolean good() {
    return System.nanoTime() - goodNs < OLD_NS;
  }

  @Override
  public void close() {
    asking.shutdownNow();
  }
}

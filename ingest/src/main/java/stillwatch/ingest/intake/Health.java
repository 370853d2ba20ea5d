package stillwatch.ingest.intake;

import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
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

  private final Supplier<Optional<String>> question;
  private final ScheduledExecutorService asking =
      Executors.newSingleThreadScheduledExecutor(
          r -> {
            Thread t = new Thread(r, "health");
            t.setDaemon(true);
            return t;
          });
  private volatile Said said = new Said(Optional.of("it has just started"), System.nanoTime());

  /** What was answered, and when. */
  private record Said(Optional<String> fault, long atNs) {}

  /** Asks why the process cannot do its work, in a sentence; empty while it can. */
  Health(Supplier<Optional<String>> question) {
    this.question = question;
    var unused = asking.scheduleWithFixedDelay(this::ask, 0, 1, TimeUnit.SECONDS);
  }

  private void ask() {
    try {
      said = new Said(question.get(), System.nanoTime());
    } catch (RuntimeException e) { // thrown on, it would never be asked again
      LOG.warn("the health could not be found out: {}", e.toString());
    }
  }

  /** Why it did not do its work when last asked, not long ago; empty when it did. */
  Optional<String> fault() {
    Said last = said;
    return System.nanoTime() - last.atNs() < OLD_NS
        ? last.fault()
        : Optional.of("how it does has not been known for a while");
  }

  @Override
  public void close() {
    asking.shutdownNow();
  }
}

package stillwatch.alerts.route;

import java.time.Clock;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Sends a digest by a route, again and again. One that fails is not kept: the next one says more.
 * One thread runs it.
 */
public final class DigestSender implements Runnable, AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(DigestSender.class);

  private final Route route;
  private final Duration every;
  private final Supplier<String> text;
  private final CountDownLatch closing = new CountDownLatch(1);
  private final Clock clock;
  private volatile String fault = "";
  private volatile long deliveredMs;

  /** A sender of digests. */
  public DigestSender(Route route, Duration every, Supplier<String> text, Clock clock) {
    this.route = route;
    this.every = every;
    this.text = text;
    this.clock = clock;
    deliveredMs = clock.millis();
  }

  @Override
  public void run() {
    try {
      do {
        send();
      } while (!closing.await(every.toMillis(), TimeUnit.MILLISECONDS));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void send() throws InterruptedException {
    try {
      route.digest(text.get());
      fault = "";
      deliveredMs = clock.millis();
    } catch (DeliveryException e) {
      fault = String.valueOf(e.getMessage());
      LOG.warn("route {}: no digest went out: {}", route.name(), fault);
    }
  }

  /** How it is doing. Safe from any thread. */
  public RouteStatus status() {
    return new RouteStatus(route.name(), 0, !fault.isEmpty(), fault);
  }

  /**
   * Why no digest arrives, one sentence that begins with the route's name: the last one failed, or
   * none was delivered for twice the time between two. Safe from any thread.
   */
  public Optional<String> lost() {
    Duration since = Duration.ofMillis(clock.millis() - deliveredMs);
    if (!fault.isEmpty()) {
      return Optional.of(route.name() + ": " + fault + ".");
    }
    return since.compareTo(every.multipliedBy(2)) > 0
        ? Optional.of(route.name() + ": none was delivered for " + since.toMinutes() + " min.")
        : Optional.empty();
  }

  @Override
  public void close() {
    closing.countDown();
  }
}

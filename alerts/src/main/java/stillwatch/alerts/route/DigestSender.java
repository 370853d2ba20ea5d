package stillwatch.alerts.route;

import java.time.Duration;
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
  private volatile String fault = "";

  /** A sender of digests. */
  public DigestSender(Route route, Duration every, Supplier<String> text) {
    this.route = route;
    this.every = every;
    this.text = text;
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
    } catch (DeliveryException e) {
      fault = String.valueOf(e.getMessage());
      LOG.warn("route {}: no digest went out: {}", route.name(), fault);
    }
  }

  /** How it is doing. Safe from any thread. */
  public RouteStatus status() {
    return new RouteStatus(route.name(), 0, !fault.isEmpty(), fault);
  }

  @Override
  public void close() {
    closing.countDown();
  }
}

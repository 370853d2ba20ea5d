package stillwatch.alerts.route;

import java.time.Clock;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Empties the outbox of one route, the most urgent first, until it is closed. While the route fails
 * it pauses, longer and longer, before it tries again. One thread runs it.
 */
public final class Sender implements Runnable, AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Sender.class);
  private static final long LOOK_EVERY_MS = 250;

  private final Outbox outbox;
  private final Route route;
  private final Backoff backoff;
  private final Clock clock;
  private final CountDownLatch closing = new CountDownLatch(1);
  private int failures;

  /** A sender for this route. */
  public Sender(Outbox outbox, Route route, Backoff backoff, Clock clock) {
    this.outbox = outbox;
    this.route = route;
    this.backoff = backoff;
    this.clock = clock;
  }

  @Override
  public void run() {
    open();
    try {
      long pauseMs = 0;
      while (!closing.await(pauseMs, TimeUnit.MILLISECONDS)) {
        Optional<Delivery> due = outbox.begin(route, clock.millis());
        if (due.isPresent()) {
          send(due.get());
        }
        pauseMs = failures > 0 ? backoff.afterMs(failures) : due.isPresent() ? 0 : LOOK_EVERY_MS;
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt(); // asked to end
    }
  }

  private void open() {
    try {
      route.open();
    } catch (DeliveryException e) {
      LOG.warn("route {}: {}; it is tried again", route.name(), e.getMessage());
    }
  }

  private void send(Delivery delivery) throws InterruptedException {
    try {
      route.deliver(delivery);
      outbox.delivered(delivery, route, clock.millis());
      if (failures > 0) {
        LOG.info("route {} delivers again", route.name());
      }
      failures = 0;
    } catch (DeliveryException e) {
      outbox.failed(delivery, String.valueOf(e.getMessage()), clock.millis());
      if (failures == 0) {
        LOG.warn("route {}: {}; it is tried again", route.name(), e.getMessage());
      }
      failures++;
    }
  }

  @Override
  public void close() {
    closing.countDown();
  }
}

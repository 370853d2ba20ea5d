package stillwatch.alerts.route;

import java.time.Clock;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Empties the outbox of one route, oldest first, until it is closed. One thread runs it. */
public final class Sender implements Runnable, AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Sender.class);
  private static final long LOOK_EVERY_MS = 250;

  private final Outbox outbox;
  private final Route route;
  private final Backoff backoff;
  private final Clock clock;
  private boolean failing;
  private volatile boolean closing;

  /** A sender for this route. */
  public Sender(Outbox outbox, Route route, Backoff backoff, Clock clock) {
    this.outbox = outbox;
    this.route = route;
    this.backoff = backoff;
    this.clock = clock;
  }

  @Override
  public void run() {
    try {
      while (!closing) {
        Optional<Delivery> due = outbox.begin(route.name(), clock.millis(), backoff);
        if (due.isPresent()) {
          send(due.get());
        } else {
          Thread.sleep(LOOK_EVERY_MS);
        }
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt(); // asked to end
    }
  }

  private void send(Delivery delivery) throws InterruptedException {
    try {
      route.deliver(delivery);
      outbox.delivered(delivery, route.name(), clock.millis());
      if (failing) {
        LOG.info("route {} delivers again", route.name());
      }
      failing = false;
    } catch (DeliveryException e) {
      outbox.failed(delivery, String.valueOf(e.getMessage()));
      if (!failing) {
        LOG.warn("route {}: {}; it is tried again", route.name(), e.getMessage());
      }
      failing = true;
    }
  }

  @Override
  public void close() {
    closing = true;
  }
}

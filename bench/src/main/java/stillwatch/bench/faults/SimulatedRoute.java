package stillwatch.bench.faults;

import java.time.Clock;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import stillwatch.alerts.route.Backoff;
import stillwatch.alerts.route.Delivery;
import stillwatch.alerts.route.DeliveryException;
import stillwatch.alerts.route.Outbox;
import stillwatch.alerts.route.Route;
import stillwatch.alerts.route.Sender;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.RoutePlan;

/** A route in memory whose peer refuses every third message. */
final class SimulatedRoute implements Route {
  private static final RoutePlan PLAN =
      new RoutePlan(
          "out",
          new RoutePlan.Syslog("127.0.0.1", 9, false),
          Priority.INFORMATION,
          null,
          null,
          null);
  private static final long EMPTY_WITHIN_MS = 5_000;

  private final Received received = new Received();
  private int calls;

  @Override
  public RoutePlan plan() {
    return PLAN;
  }

  @Override
  public void deliver(Delivery delivery) throws DeliveryException {
    synchronized (this) {
      if (++calls % 3 == 0) {
        throw new DeliveryException("the peer refuses every third message");
      }
      received.took(delivery.id(), delivery.repeated());
      notifyAll();
    }
  }

  @Override
  public void digest(String text) {
    // nobody asks for one
  }

  /** Sends what waits, until the peer has so many messages or five seconds are over. */
  void empty(Outbox outbox, Clock clock, int messages) {
    Sender sender = new Sender(outbox, this, new Backoff(1, 5, new Random(1)), clock);
    Thread thread = new Thread(sender, "sender");
    thread.start();
    try (sender) {
      await(messages);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    try {
      thread.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private synchronized void await(int messages) throws InterruptedException {
    long endNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(EMPTY_WITHIN_MS);
    long leftMs = EMPTY_WITHIN_MS;
    while (received.delivered().size() < messages && leftMs > 0) {
      wait(leftMs);
      leftMs = TimeUnit.NANOSECONDS.toMillis(endNs - System.nanoTime());
    }
  }

  /** How often each message was delivered. */
  Map<String, Integer> delivered() {
    return received.delivered();
  }
}

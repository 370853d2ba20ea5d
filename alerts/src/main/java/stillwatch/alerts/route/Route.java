package stillwatch.alerts.route;

import stillwatch.rules.finding.Finding;

/** A way for alerts to leave the machine. Safe from any thread. */
public interface Route {
  /** Its name, unique in the plan. */
  String name();

  /** Whether this finding goes out on it. */
  boolean wants(Finding finding);

  /**
   * Delivers; returns when the other side has it.
   *
   * @throws DeliveryException when it has not, or may not have
   */
  void deliver(Delivery delivery) throws DeliveryException, InterruptedException;
}

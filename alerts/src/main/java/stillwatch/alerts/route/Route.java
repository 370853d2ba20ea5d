package stillwatch.alerts.route;

import stillwatch.ingest.entrance.Trust;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.RoutePlan;

/** A way for alerts to leave the machine. Safe from any thread. */
public interface Route extends AutoCloseable {
  /** What the plan says of it. */
  RoutePlan plan();

  /** The route's name, unique in the plan. */
  default String name() {
    return plan().name();
  }

  /** Whether this finding goes out on it. */
  default boolean wants(Finding finding) {
    return plan().digest() == null && finding.priority().compareTo(plan().from()) >= 0;
  }

  /**
   * Begins what must stand before the first alert; called again when it did not succeed.
   *
   * @throws DeliveryException when it cannot begin as the plan says
   */
  default void open() throws DeliveryException {}

  /**
   * Delivers; returns when the other side has it.
   *
   * @throws DeliveryException when it has not, or may not have
   */
  void deliver(Delivery delivery) throws DeliveryException, InterruptedException;

  /**
   * Delivers a digest.
   *
   * @throws DeliveryException when the other side does not have it; the next one will do
   */
  void digest(String text) throws DeliveryException, InterruptedException;

  @Override
  default void close() {}

  /**
   * The route a plan describes.
   *
   * @param well whose alerts it takes, as a topic names it
   * @param trust whom it trusts where the plan wants TLS
   */
  static Route of(RoutePlan plan, String well, Trust trust) {
    RoutePlan.Way way = plan.way();
    if (way instanceof RoutePlan.Webhook webhook) {
      return new WebhookRoute(plan, webhook, trust.context());
    }
    if (way instanceof RoutePlan.Mail mail) {
      return new MailRoute(plan, mail, trust.context());
    }
    if (way instanceof RoutePlan.Mqtt mqtt) {
      return new MqttRoute(plan, mqtt, well, trust);
    }
    if (way instanceof RoutePlan.Syslog syslog) {
      return new SyslogRoute(plan, syslog, trust.context());
    }
    throw new IllegalArgumentException(
        "Route.of makes no route for " + way.getClass().getSimpleName() + " yet");
  }
}

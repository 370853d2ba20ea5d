package stillwatch.alerts.route;

import javax.net.ssl.SSLContext;
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
   * @param tls how it speaks TLS where the plan wants that, and whom it then trusts
   */
  static Route of(RoutePlan plan, String well, SSLContext tls) {
    RoutePlan.Way way = plan.way();
    if (way instanceof RoutePlan.Webhook webhook) {
      return new WebhookRoute(plan, webhook, tls);
    }
    if (way instanceof RoutePlan.Mail mail) {
      return new MailRoute(plan, mail, tls);
    }
    if (way instanceof RoutePlan.Mqtt mqtt) {
      return new MqttRoute(plan, mqtt, well, tls);
    }
    if (way instanceof RoutePlan.Syslog syslog) {
      return new SyslogRoute(plan, syslog, tls);
    }
    throw new IllegalArgumentException(
        "Route.of makes no route for " + way.getClass().getSimpleName() + " yet");
  }
}

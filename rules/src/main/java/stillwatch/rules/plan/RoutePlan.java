package stillwatch.rules.plan;

import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.book.Priority;

/**
 * A way for alerts to leave the machine.
 *
 * @param name unique among the plan's routes
 * @param way how
 * @param from the lowest priority that goes out on it
 * @param after only what nobody has acknowledged for this long; null for at once
 * @param repeat what is of high priority is repeated so often until somebody acknowledges it; null
 *     for once
 * @param digest nothing goes out at once, but a digest so often; null for none
 */
public record RoutePlan(
    String name,
    Way way,
    Priority from,
    @Nullable Duration after,
    @Nullable Duration repeat,
    @Nullable Duration digest) {
  /** How a route delivers. */
  public sealed interface Way {}

  /**
   * By posting to an address.
   *
   * @param secret a file with the secret that signs it; null for unsigned
   */
  public record Webhook(URI url, @Nullable Path secret) implements Way {}

  /**
   * By e-mail.
   *
   * @param host the mail server
   * @param tls whether it must speak STARTTLS
   * @param user who logs in; null for nobody
   * @param password a file with the password
   */
  public record Mail(
      String host,
      int port,
      boolean tls,
      String sender,
      List<String> to,
      @Nullable String user,
      @Nullable Path password)
      implements Way {}

  /**
   * By an MQTT broker, with a sign of life that the broker takes back when this watch is gone.
   *
   * @param server {@code tcp://host:port} or {@code ssl://host:port}
   * @param topic below which everything is published
   */
  public record Mqtt(String server, String topic, @Nullable String user, @Nullable Path password)
      implements Way {}

  /** By syslog over TCP, or TLS. */
  public record Syslog(String host, int port, boolean tls) implements Way {}
}

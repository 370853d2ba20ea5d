package stillwatch.alerts.route;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.sun.net.httpserver.HttpsConfigurator;
import com.sun.net.httpserver.HttpsServer;
import io.moquette.broker.Server;
import io.moquette.broker.config.MemoryConfig;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Properties;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import javax.net.ssl.SSLServerSocket;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.subethamail.smtp.server.SMTPServer;
import org.subethamail.wiser.Wiser;
import stillwatch.alerts.desk.Findings;
import stillwatch.ingest.entrance.Trust;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.RoutePlan;

/** Alerts on their way over TLS to real peers, whose certificates a site's own authority signed. */
@Timeout(120)
class RoutesOverTlsTest {
  private static Identity identity = new Identity(Path.of(""));

  @BeforeAll
  static void makeIdentity(@TempDir Path folder) throws Exception {
    identity = Identity.make(folder);
  }

  private static Route route(RoutePlan.Way way, Trust tls) {
    return Route.of(new RoutePlan("out", way, Priority.LOW, null, null, null), "larkspur-2", tls);
  }

  private static Delivery alert() {
    return new Delivery(
        1, "raised", Findings.raised("t1", Priority.HIGH), 1, false, "0".repeat(64));
  }

  /**
   * Delivers to a peer at 127.0.0.1; gives it nothing by another name than its certificate's, and
   * nothing when nobody vouches for that.
   */
  private static void reachesOnlyForWhoTrusts(Function<String, RoutePlan.Way> at) throws Exception {
    refuses(route(at.apply("127.0.0.1"), Trust.usual()));
    refuses(route(at.apply("localhost"), identity.trusting()));
    try (Route knows = route(at.apply("127.0.0.1"), identity.trusting())) {
      knows.deliver(alert());
    }
  }

  private static void refuses(Route route) throws Exception {
    try (route) {
      assertThatThrownBy(() -> route.deliver(alert()))
          .isInstanceOf(DeliveryException.class)
          .hasMessageContaining("its certificate is not trusted here")
          .hasMessageContaining("--trust");
    }
  }

  /** RFC 5425: syslog over TLS. */
  @Test
  void aSyslogReceiver() throws Exception {
    try (SSLServerSocket receiver =
        (SSLServerSocket)
            identity
                .server()
                .getServerSocketFactory()
                .createServerSocket(0, 5, InetAddress.getLoopbackAddress())) {
      CompletableFuture<String> got = new CompletableFuture<>();
      Thread taking =
          new Thread(
              () -> {
                while (!got.isDone()) {
                  try (var socket = receiver.accept()) {
                    got.complete(
                        new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8));
                  } catch (java.io.IOException e) {
                    // who does not trust hangs up
                  }
                }
              });
      taking.setDaemon(true);
      taking.start();
      reachesOnlyForWhoTrusts(host -> new RoutePlan.Syslog(host, receiver.getLocalPort(), true));
      assertThat(got.get(20, TimeUnit.SECONDS)).contains("<129>1 ", "id=\"t1-raised\"");
    }
  }

  /** RFC 3207: SMTP, secured by STARTTLS; nothing goes to a server that does not speak it. */
  @Test
  void aMailServer() throws Exception {
    Wiser secured =
        Wiser.create(
            SMTPServer.port(Peers.freePort())
                .bindAddress(InetAddress.getLoopbackAddress())
                .enableTLS()
                .requireTLS()
                .startTlsSocketFactory(identity.server()));
    Wiser plain =
        Wiser.create(
            SMTPServer.port(Peers.freePort()).bindAddress(InetAddress.getLoopbackAddress()));
    secured.start();
    plain.start();
    try {
      reachesOnlyForWhoTrusts(host -> mail(host, secured.getServer().getPort()));
      assertThat(secured.getMessages()).hasSize(1);
      assertThatThrownBy(
              () ->
                  route(mail("127.0.0.1", plain.getServer().getPort()), identity.trusting())
                      .deliver(alert()))
          .isInstanceOf(DeliveryException.class)
          .hasMessageContaining("STARTTLS");
      assertThat(plain.getMessages()).isEmpty();
    } finally {
      secured.stop();
      plain.stop();
    }
  }

  private static RoutePlan.Mail mail(String host, int port) {
    return new RoutePlan.Mail(
        host, port, true, "watch@x.example", List.of("lead@x.example"), null, null);
  }

  @Test
  void aWebServer() throws Exception {
    HttpsServer server =
        HttpsServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    server.setHttpsConfigurator(new HttpsConfigurator(identity.server()));
    BlockingQueue<String> got = new LinkedBlockingQueue<>();
    server.createContext(
        "/",
        x -> {
          got.add(new String(x.getRequestBody().readAllBytes(), StandardCharsets.UTF_8));
          x.sendResponseHeaders(204, -1);
          x.close();
        });
    server.start();
    try {
      reachesOnlyForWhoTrusts(
          host ->
              new RoutePlan.Webhook(
                  URI.create("https://" + host + ":" + server.getAddress().getPort() + "/"), null));
      assertThat(got).hasSize(1).first().asString().contains("t1-raised");
    } finally {
      server.stop(0);
    }
  }

  @Test
  void anMqttBroker() throws Exception {
    int port = Peers.freePort();
    Properties settings = Peers.mqtt(Peers.freePort());
    settings.put("ssl_port", Integer.toString(port));
    settings.put("jks_path", identity.store().toString());
    settings.put("key_store_type", "pkcs12");
    settings.put("key_store_password", Identity.PASSWORD);
    settings.put("key_manager_password", Identity.PASSWORD);
    Server broker = new Server();
    broker.startServer(new MemoryConfig(settings));
    try (Shore shore = new Shore(port, identity.trusting(), "site/larkspur-2/alerts")) {
      reachesOnlyForWhoTrusts(
          host -> new RoutePlan.Mqtt("ssl://" + host + ":" + port, "site", null, null));
      assertThat(shore.next()).contains("t1-raised");
    } finally {
      broker.stopServer();
    }
  }
}

package stillwatch.alerts.route;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.standardwebhooks.Webhook;
import com.standardwebhooks.exceptions.WebhookVerificationException;
import com.sun.net.httpserver.HttpServer;
import io.moquette.broker.Server;
import io.moquette.broker.config.MemoryConfig;
import jakarta.mail.internet.MimeMessage;
import jakarta.mail.internet.MimeMultipart;
import java.io.ByteArrayInputStream;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.random.RandomGenerator;
import javax.imageio.ImageIO;
import javax.xml.XMLConstants;
import javax.xml.transform.stream.StreamSource;
import javax.xml.validation.SchemaFactory;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.subethamail.smtp.server.SMTPServer;
import org.subethamail.wiser.Wiser;
import org.subethamail.wiser.WiserMessage;
import stillwatch.alerts.HandSetClock;
import stillwatch.alerts.desk.Desk;
import stillwatch.alerts.desk.Findings;
import stillwatch.alerts.desk.JournalCheck;
import stillwatch.alerts.journal.Databases;
import stillwatch.alerts.journal.Journal;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.entrance.Trust;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.DeskPlan;
import stillwatch.rules.plan.RoutePlan;

/** Alerts on their way to real peers. */
@Timeout(120)
class RoutesTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  private static final String RECORD = "0123456789abcdef".repeat(4);

  @TempDir Path folder;

  private static RoutePlan plan(
      RoutePlan.Way way, @Nullable Duration after, @Nullable Duration repeat) {
    return new RoutePlan("out", way, Priority.LOW, after, repeat, null);
  }

  private static Route route(RoutePlan.Way way) throws Exception {
    return Route.of(plan(way, null, null), "larkspur-2", Trust.usual());
  }

  private static Delivery delivery(Finding finding, int attempt) {
    return new Delivery(
        1, finding.returned() ? "returned" : "raised", finding, attempt, false, RECORD);
  }

  /** A drill's alert must not be taken for the well's, by nobody and on no way out. */
  @Test
  void whatAnExerciseSendsSaysSo() throws Exception {
    Delivery drill =
        new Delivery(1, "raised", Findings.raised("a1", Priority.HIGH), 1, true, RECORD);
    assertThat(AlertText.line(drill)).startsWith("EXERCISE HIGH larkspur-2");
    assertThat(AlertText.body(drill)).startsWith("EXERCISE, from a recording");
    assertThat(JSON.readTree(CloudEvent.of(drill)).path("exercise").asBoolean()).isTrue();
    String cap = CommonAlert.of(drill, "watch@x.example");
    valid(cap);
    assertThat(cap).contains("<status>Exercise</status>").doesNotContain("Actual");
    Delivery real = delivery(Findings.raised("a1", Priority.HIGH), 1);
    assertThat(
            AlertText.line(real)
                + AlertText.body(real)
                + new String(CloudEvent.of(real), StandardCharsets.UTF_8))
        .doesNotContainIgnoringCase("exercise");
    assertThat(CommonAlert.of(real, "watch@x.example")).contains("<status>Actual</status>");
  }

  /** That a condition is over is no all-clear. */
  @Test
  void whatIsOverIsNotCalledClear() throws Exception {
    String over = CommonAlert.of(delivery(Findings.returned("a1", Priority.LOW), 1), "w@x.example");
    assertThat(over).contains("<urgency>Past</urgency>").doesNotContain("AllClear");
  }

  private static void valid(String cap) throws Exception {
    try (InputStream schema = RoutesTest.class.getResourceAsStream("/oasis/cap-1.2.xsd")) {
      SchemaFactory.newInstance(XMLConstants.W3C_XML_SCHEMA_NS_URI)
          .newSchema(new StreamSource(schema))
          .newValidator()
          .validate(
              new StreamSource(new ByteArrayInputStream(cap.getBytes(StandardCharsets.UTF_8))));
    }
  }

  /** A message a person reads on a phone, with the trail as a picture and CAP for programs. */
  @Test
  void anEMailIsReadableHasAPictureAndAValidCommonAlert() throws Exception {
    Wiser mail =
        Wiser.create(
            SMTPServer.port(Peers.freePort()).bindAddress(InetAddress.getLoopbackAddress()));
    mail.start();
    try {
      RoutePlan.Mail way =
          new RoutePlan.Mail(
              "127.0.0.1",
              mail.getServer().getPort(),
              false,
              "watch@larkspur.example",
              List.of("lead@larkspur.example", "deputy@larkspur.example"),
              null,
              null);
      Route route = route(way);
      route.deliver(delivery(Findings.withTrail("a1", Priority.HIGH), 1));
      route.deliver(delivery(Findings.withTrail("a1", Priority.HIGH), 2));
      List<MimeMessage> got = new ArrayList<>();
      for (WiserMessage m : mail.getMessages()) {
        got.add(m.getMimeMessage());
      }
      assertThat(got).as("two receivers, two attempts").hasSize(4);
      assertThat(got.get(0).getSubject()).isEqualTo("HIGH larkspur-2 Pressure falls suddenly");
      assertThat(got.get(2).getMessageID())
          .isEqualTo(got.get(0).getMessageID())
          .isEqualTo("<a1-raised@stillwatch>");
      MimeMultipart parts = (MimeMultipart) got.get(0).getContent();
      for (MimeMessage m : got) {
        MimeMultipart p = (MimeMultipart) m.getContent();
        parts = ((String) p.getBodyPart(0).getContent()).contains("Attempt") ? p : parts;
      }
      String text = ((String) parts.getBodyPart(0).getContent()).replace("\r", "");
      assertThat(text.lines().findFirst()).hasValue("It fell.");
      assertThat(text)
          .contains(
              "Call.",
              "Began 2026-03-08 11:05:02 UTC",
              "Attempt 2: it may have reached you before",
              "Picture: PT-1 over 2 min",
              "Record 0123456789abcdef",
              ShortCaution.TEXT.replace(". ", ".\n"));
      assertThat(text.lines().mapToInt(String::length).max().orElse(0)).isLessThan(140);
      assertThat(ImageIO.read(parts.getBodyPart(1).getInputStream()).getWidth()).isEqualTo(640);
      String cap =
          new String(parts.getBodyPart(2).getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      valid(cap);
      assertThat(cap).contains(ShortCaution.TEXT, RECORD);
      valid(CommonAlert.of(delivery(Findings.returned("a1", Priority.LOW), 1), "watch@x.example"));
    } finally {
      mail.stop();
    }
  }

  /** OASIS MQTT 3.1.1: at least once, retained, and the last will. */
  @Test
  void anMqttBrokerHasAlertsAndKnowsWhenTheWatchIsGone() throws Exception {
    int port = Peers.freePort();
    Server broker = new Server();
    broker.startServer(new MemoryConfig(Peers.mqtt(port)));
    String server = "tcp://127.0.0.1:" + port;
    try (Shore shore = new Shore(port, null, "site/#")) {
      Route route = route(new RoutePlan.Mqtt(server, "site", null, null));
      route.deliver(delivery(Findings.raised("m1", Priority.HIGH), 1));
      assertThat(shore.next()).isEqualTo("site/larkspur-2/watch here");
      String alert = shore.next();
      assertThat(alert).startsWith("site/larkspur-2/alerts {");
      JsonNode event = JSON.readTree(alert.substring(alert.indexOf('{')));
      assertThat(event.path("data").path("id").asText()).isEqualTo("m1");
      assertThat(event.path("data").path("cautions").asText()).isEqualTo(ShortCaution.TEXT);
      assertThat(event.path("record").asText()).isEqualTo(RECORD);
      route.close();
      assertThat(shore.next()).isEqualTo("site/larkspur-2/watch gone");
    } finally {
      broker.stopServer();
    }
  }

  /** RFC 5424, 6: the header's fields; RFC 6587, 3.4.1: the length before the message. */
  @Test
  void aSyslogReceiverGetsOneMessageWithItsLength() throws Exception {
    try (ServerSocket receiver = new ServerSocket(0, 5, InetAddress.getLoopbackAddress())) {
      Route route = route(new RoutePlan.Syslog("127.0.0.1", receiver.getLocalPort(), false));
      route.deliver(delivery(Findings.raised("s1", Priority.HIGH), 1));
      byte[] all;
      try (var socket = receiver.accept()) {
        all = socket.getInputStream().readAllBytes();
      }
      String text = new String(all, StandardCharsets.UTF_8);
      int blank = text.indexOf(' ');
      assertThat(Integer.parseInt(text.substring(0, blank))).isEqualTo(all.length - blank - 1);
      assertThat(text.substring(blank + 1))
          .matches(
              "<129>1 \\d{4}-\\d\\d-\\d\\dT[0-9:.]+Z \\S+ stillwatch \\d+ raised"
                  + " \\[stillwatch@32473 id=\"s1-raised\" rule=\"sudden-drop\" well=\"larkspur-2\" attempt=\"1\" record=\"0123456789abcdef\"]"
                  + " \uFEFFHIGH larkspur-2 Pressure falls suddenly: It fell\\. \\Q"
                  + ShortCaution.TEXT
                  + "\\E");
    }
    Route gone = route(new RoutePlan.Syslog("127.0.0.1", Peers.freePort(), false));
    assertThatThrownBy(() -> gone.deliver(delivery(Findings.raised("s2", Priority.HIGH), 1)))
        .isInstanceOf(DeliveryException.class)
        .hasMessageContaining("cannot be reached");
  }

  /** An HTTP receiver that can be away. */
  private static final class Receiver implements AutoCloseable {
    private final HttpServer server;
    private final BlockingQueue<JsonNode> taken = new LinkedBlockingQueue<>();
    private final BlockingQueue<List<String>> signed = new LinkedBlockingQueue<>();
    private volatile int answer = 204;

    Receiver() throws Exception {
      server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
      server.createContext(
          "/",
          x -> {
            byte[] body = x.getRequestBody().readAllBytes();
            if (answer == 204) {
              var h = x.getRequestHeaders();
              signed.add(
                  List.of(
                      String.valueOf(h.getFirst("webhook-id")),
                      String.valueOf(h.getFirst("webhook-timestamp")),
                      String.valueOf(h.getFirst("webhook-signature")),
                      String.valueOf(h.getFirst("Idempotency-Key")),
                      new String(body, StandardCharsets.UTF_8)));
              taken.add(JSON.readTree(body));
            }
            x.sendResponseHeaders(answer, -1);
            x.close();
          });
      server.start();
    }

    URI url() {
      return URI.create("http://127.0.0.1:" + server.getAddress().getPort() + "/");
    }

    String next() throws InterruptedException {
      JsonNode n = taken.poll(20, TimeUnit.SECONDS);
      return n == null ? "nothing" : n.path("id").asText();
    }

    @Override
    public void close() {
      server.stop(0);
    }
  }

  /** By another's implementation of Standard Webhooks 1.0.0, com.standardwebhooks. */
  @Test
  void aPostIsSignedWithTheSecretOfTheFile() throws Exception {
    String base64 =
        "whsec_"
            + Base64.getEncoder()
                .encodeToString("0123456789abcdefghijklmn".getBytes(StandardCharsets.UTF_8));
    verified(base64, new Webhook(base64));
    verified("between us", new Webhook("between us".getBytes(StandardCharsets.UTF_8)));
  }

  private void verified(String secret, Webhook theirs) throws Exception {
    Path file = Files.writeString(folder.resolve("secret"), secret + "\n");
    try (Receiver receiver = new Receiver()) {
      route(new RoutePlan.Webhook(receiver.url(), file))
          .deliver(delivery(Findings.raised("w1", Priority.HIGH), 1));
      List<String> got = receiver.signed.take();
      assertThat(got.get(0)).isEqualTo("w1-raised").isEqualTo(got.get(3));
      Map<String, List<String>> headers =
          Map.of(
              "webhook-id", List.of(got.get(0)),
              "webhook-timestamp", List.of(got.get(1)),
              "webhook-signature", List.of(got.get(2)));
      theirs.verify(got.get(4), headers);
      assertThatThrownBy(() -> theirs.verify(got.get(4) + " ", headers))
          .isInstanceOf(WebhookVerificationException.class);
    }
  }

  @Test
  void aSecretThatCannotBeReadIsTold() throws Exception {
    Path file = Files.writeString(folder.resolve("secret"), "whsec_???");
    Route route = route(new RoutePlan.Webhook(URI.create("http://127.0.0.1:1/"), file));
    assertThatThrownBy(() -> route.deliver(delivery(Findings.raised("w2", Priority.HIGH), 1)))
        .isInstanceOf(DeliveryException.class)
        .hasMessageContaining("the rest is no Base64");
  }

  /** Waits until so many deliveries are on record. */
  private static void onRecord(Journal journal, int deliveries) throws InterruptedException {
    List<String> found = new ArrayList<>();
    while (found.size() < deliveries) {
      found.clear();
      journal.entries("larkspur-2", List.of("delivered"), e -> found.add(e.body()));
      Thread.sleep(20);
    }
  }

  private interface While {
    void check(Desk desk, Outbox outbox) throws Exception;
  }

  private void sending(RoutePlan plan, HandSetClock clock, Journal journal, While then)
      throws Exception {
    Route route = Route.of(plan, "larkspur-2", Trust.usual());
    Outbox outbox = new Outbox("larkspur-2", journal, List.of(route));
    Desk desk = new Desk("larkspur-2", DeskPlan.USUAL, journal, outbox, clock);
    try (Sender sender =
        new Sender(outbox, route, new Backoff(20, 60, RandomGenerator.getDefault()), clock)) {
      Thread thread = new Thread(sender, "sender");
      thread.start();
      then.check(desk, outbox);
      sender.close();
      thread.join();
    }
    assertThat(JournalCheck.of(journal, null).fault()).isNull();
  }

  @Test
  void whatNobodyAcknowledgesGoesFurtherAndIsRepeatedUntilSomebodyDoes() throws Exception {
    HandSetClock clock = new HandSetClock("2026-03-08T12:00:00Z");
    try (Receiver receiver = new Receiver();
        Journal journal = Databases.FILE.open(folder)) {
      RoutePlan plan =
          plan(
              new RoutePlan.Webhook(receiver.url(), null),
              Duration.ofMinutes(10),
              Duration.ofMinutes(5));
      sending(
          plan,
          clock,
          journal,
          (desk, outbox) -> {
            desk.take(
                Topics.ALERTS,
                List.of(
                    Findings.message(0, Findings.raised("seen", Priority.HIGH)),
                    Findings.message(1, Findings.raised("unseen", Priority.HIGH))));
            desk.acknowledge("seen", "Ada", "");
            clock.forward(Duration.ofMinutes(9));
            Thread.sleep(600);
            assertThat(receiver.taken).as("not yet").isEmpty();
            clock.forward(Duration.ofMinutes(1));
            assertThat(receiver.next()).isEqualTo("unseen-raised");
            onRecord(journal, 1);
            clock.forward(Duration.ofMinutes(5));
            assertThat(receiver.next()).isEqualTo("unseen-raised-2");
            onRecord(journal, 2);
            desk.acknowledge("unseen", "Bob", "");
            clock.forward(Duration.ofMinutes(5));
            Thread.sleep(600);
            assertThat(receiver.taken).as("seen to").isEmpty();
            desk.take(
                Topics.ALERTS,
                List.of(
                    Findings.message(2, Findings.returned("seen", Priority.HIGH)),
                    Findings.message(3, Findings.returned("unseen", Priority.HIGH))));
            assertThat(receiver.next())
                .as("who was told hears the end")
                .isEqualTo("unseen-returned");
            Thread.sleep(300);
            assertThat(receiver.taken).isEmpty();
            assertThat(outbox.status(clock.millis()).get(0).waiting()).isZero();
          });
    }
  }

  @Test
  void whenAReceiverComesBackEverythingReachesItOnceTheMostUrgentFirst() throws Exception {
    HandSetClock clock = new HandSetClock("2026-03-08T12:00:00Z");
    try (Receiver receiver = new Receiver();
        Journal journal = Databases.FILE.open(folder)) {
      receiver.answer = 503;
      sending(
          plan(new RoutePlan.Webhook(receiver.url(), null), null, null),
          clock,
          journal,
          (desk, outbox) -> {
            Priority[] order = {Priority.LOW, Priority.HIGH, Priority.MEDIUM};
            for (int i = 0; i < 60; i++) {
              desk.take(
                  Topics.ALERTS,
                  List.of(
                      Findings.message(
                          i, Findings.at("gauge-noisy", "G" + i, order[i % 3], 1000 + i))));
              clock.forward(Duration.ofSeconds(10));
            }
            new CountDownLatch(1).await(1500, TimeUnit.MILLISECONDS);
            assertThat(outbox.status(clock.millis()).get(0).failing()).isTrue();
            receiver.answer = 204;
            List<String> priorities = new ArrayList<>();
            List<String> ids = new ArrayList<>();
            for (int i = 0; i < 60; i++) {
              JsonNode n = receiver.taken.poll(20, TimeUnit.SECONDS);
              assertThat(n).isNotNull();
              JsonNode event = n == null ? JSON.createObjectNode() : n;
              ids.add(event.path("id").asText());
              if (event.path("attempt").asInt() < 5) {
                priorities.add(event.path("data").path("priority").asText());
              }
            }
            assertThat(ids).doesNotHaveDuplicates();
            assertThat(priorities)
                .isSortedAccordingTo((a, b) -> Priority.of(b).compareTo(Priority.of(a)));
            assertThat(priorities.size()).isGreaterThan(40);
            Thread.sleep(300);
            assertThat(outbox.status(clock.millis()).get(0).waiting()).isZero();
            assertThat(receiver.taken).isEmpty();
          });
    }
  }
}

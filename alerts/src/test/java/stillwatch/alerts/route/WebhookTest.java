package stillwatch.alerts.route;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.util.Collections;
import java.util.List;
import java.util.Queue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.random.RandomGenerator;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import stillwatch.alerts.desk.Desk;
import stillwatch.alerts.desk.Findings;
import stillwatch.alerts.desk.JournalCheck;
import stillwatch.alerts.journal.Databases;
import stillwatch.alerts.journal.Journal;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.entrance.Trust;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.DeskPlan;
import stillwatch.rules.plan.RoutePlan;

/** Alerts on their way to a real HTTP server that does not always take them. */
class WebhookTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final BlockingQueue<JsonNode> received = new LinkedBlockingQueue<>();
  private final BlockingQueue<String> types = new LinkedBlockingQueue<>();
  private final Queue<Integer> answers = new ConcurrentLinkedQueue<>();
  private HttpServer server;
  private Journal journal;
  private Outbox outbox;
  private Desk desk;

  WebhookTest() throws IOException {
    server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    journal = Databases.FILE.open(Path.of("target", "webhook-" + System.nanoTime()));
    outbox = new Outbox("larkspur-2", journal, List.of());
    desk = new Desk("larkspur-2", DeskPlan.USUAL, journal, outbox, Clock.systemUTC());
  }

  @BeforeEach
  void start() throws GeneralSecurityException {
    server.createContext(
        "/alerts",
        x -> {
          received.add(JSON.readTree(x.getRequestBody().readAllBytes()));
          types.add(String.valueOf(x.getRequestHeaders().getFirst("Content-Type")));
          Integer answer = answers.poll();
          x.sendResponseHeaders(answer == null ? 204 : answer, -1);
          x.close();
        });
    server.start();
    URI url = URI.create("http://127.0.0.1:" + server.getAddress().getPort() + "/alerts");
    outbox =
        new Outbox(
            "larkspur-2",
            journal,
            List.of(
                Route.of(
                    new RoutePlan(
                        "duty",
                        new RoutePlan.Webhook(url, null),
                        Priority.MEDIUM,
                        null,
                        null,
                        null),
                    "larkspur-2",
                    Trust.usual())));
    desk = new Desk("larkspur-2", DeskPlan.USUAL, journal, outbox, Clock.systemUTC());
  }

  @AfterEach
  void stop() {
    server.stop(0);
    journal.close();
  }

  private JsonNode next() throws InterruptedException {
    JsonNode n = received.poll(20, TimeUnit.SECONDS);
    assertThat(n).as("something posted").isNotNull();
    return n == null ? JSON.createObjectNode() : n;
  }

  private void whileSending(Sending then) throws Exception {
    Route route = outbox.routes().get(0);
    try (Sender sender =
        new Sender(
            outbox, route, new Backoff(20, 100, RandomGenerator.getDefault()), Clock.systemUTC())) {
      Thread thread = new Thread(sender, "sender");
      thread.start();
      then.check();
      sender.close();
      thread.join();
    }
  }

  private interface Sending {
    void check() throws Exception;
  }

  @Test
  @Timeout(60)
  void anAlertIsOfferedUntilItIsTakenAndEachAttemptSaysWhichItIs() throws Exception {
    answers.addAll(List.of(503, 500));
    desk.take(Topics.ALERTS, List.of(Findings.message(0, Findings.raised("a1", Priority.HIGH))));
    whileSending(
        () -> {
          JsonNode first = next();
          JsonNode second = next();
          JsonNode third = next();
          assertThat(
                  List.of(
                      first.path("attempt").asInt(),
                      second.path("attempt").asInt(),
                      third.path("attempt").asInt()))
              .containsExactly(1, 2, 3);
          assertThat(third.path("id")).isEqualTo(first.path("id"));
          assertThat(third.path("data").path("id").asText()).isEqualTo("a1");
        });
    assertThat(outbox.status(Long.MAX_VALUE))
        .singleElement()
        .satisfies(s -> assertThat(s.waiting()).isZero());
    assertThat(received).isEmpty();
  }

  /** Required attributes and their form: CloudEvents 1.0.2, spec.md and formats/json-format.md. */
  @Test
  @Timeout(60)
  void theBodyIsACloudEvent() throws Exception {
    desk.take(Topics.ALERTS, List.of(Findings.message(0, Findings.raised("a2", Priority.HIGH))));
    whileSending(
        () -> {
          JsonNode event = next();
          assertThat(event.path("specversion").asText()).isEqualTo("1.0");
          assertThat(event.path("id").asText()).isNotEmpty();
          assertThat(URI.create(event.path("source").asText()).getPath())
              .isEqualTo("/stillwatch/wells/larkspur-2");
          assertThat(event.path("type").asText()).isEqualTo("stillwatch.alert.raised");
          assertThat(OffsetDateTime.parse(event.path("time").asText()).toInstant().toEpochMilli())
              .isEqualTo(1_772_967_905_000L);
          event.fieldNames().forEachRemaining(name -> assertThat(name).matches("[a-z0-9]{1,20}"));
          assertThat(event.path("data").path("cautions").asText()).isEqualTo(ShortCaution.TEXT);
          assertThat(event.path("record").asText())
              .as("the record as it stood when this attempt began")
              .matches("[0-9a-f]{64}")
              .satisfies(hash -> assertThat(JournalCheck.of(journal, hash).fault()).isNull());
          assertThat(types.take()).startsWith("application/cloudevents+json");
        });
  }

  @Test
  void whatIsBelowTheRoutesPriorityStaysHere() {
    desk.take(Topics.ALERTS, List.of(Findings.message(0, Findings.raised("a3", Priority.LOW))));
    assertThat(outbox.status(Long.MAX_VALUE))
        .singleElement()
        .satisfies(s -> assertThat(s.waiting()).isZero());
  }

  @Test
  void aRouteThatFailsSaysWhy() throws Exception {
    answers.addAll(Collections.nCopies(1000, 500));
    desk.take(Topics.ALERTS, List.of(Findings.message(0, Findings.raised("a4", Priority.HIGH))));
    whileSending(
        () -> {
          next();
          next();
        });
    assertThat(outbox.status(Long.MAX_VALUE))
        .singleElement()
        .satisfies(
            s -> {
              assertThat(s.failing()).isTrue();
              assertThat(s.fault()).contains("answered 500");
            });
  }
}

package stillwatch.ingest.entrance;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import org.eclipse.jetty.io.Content;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.util.Callback;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** Clients that are slow, big, many and odd, at a gate with a server behind it, over sockets. */
@Timeout(60)
class GateTest {
  private static final Limits NARROW =
      new Limits(
          Duration.ofSeconds(1),
          Duration.ofSeconds(1),
          Duration.ofSeconds(20),
          24,
          16,
          2,
          2048,
          100_000,
          1000,
          320_000,
          1000,
          8,
          100);
  private static final String END = "Host: localhost\r\nConnection: close\r\n\r\n";

  private final List<Raw> clients = new ArrayList<>();
  private final CountDownLatch leave = new CountDownLatch(1);
  private final CountDownLatch inside = new CountDownLatch(NARROW.working());
  private Server server = new Server();
  private ServerConnector connector = new ServerConnector(server);

  GateTest() throws Exception {
    open(NARROW);
  }

  /** Who gives way to others must not run out of its time meanwhile, however busy the machine. */
  private void openWithTime() throws Exception {
    server.stop();
    open(NARROW.within(Duration.ofSeconds(30), Duration.ofSeconds(30)));
  }

  private void open(Limits limits) throws Exception {
    Gate gate = new Gate(limits);
    gate.setHandler(new Behind());
    server = new Server(gate.threads("test"));
    HttpConfiguration http = new HttpConfiguration();
    gate.holdHeads(http);
    connector = new ServerConnector(server, 1, 1, new HttpConnectionFactory(http));
    connector.setHost("127.0.0.1");
    gate.watch(connector);
    gate.stand(server);
    server.addConnector(connector);
    server.start();
  }

  /** Says how long the body was; at {@code /stay} not before it is told to. */
  private final class Behind extends Handler.Abstract {
    @Override
    public boolean handle(Request request, Response response, Callback callback)
        throws IOException {
      if (Request.getPathInContext(request).equals("/stay")) {
        inside.countDown();
        try {
          leave.await();
        } catch (InterruptedException e) {
          Thread.currentThread().interrupt();
        }
      }
      try (InputStream body = Content.Source.asInputStream(request)) {
        String text = "took " + body.readAllBytes().length;
        response.write(true, ByteBuffer.wrap(text.getBytes(StandardCharsets.US_ASCII)), callback);
      }
      return true;
    }
  }

  @AfterEach
  void stop() throws Exception {
    leave.countDown();
    for (Raw client : clients) {
      client.close();
    }
    server.stop();
  }

  private Raw client() throws IOException {
    Raw client = new Raw(connector.getLocalPort());
    clients.add(client);
    return client;
  }

  private String get(String path) throws IOException {
    return client().says("GET " + path + " HTTP/1.1\r\n" + END).hears();
  }

  private static String post(String path, int length) {
    return "POST " + path + " HTTP/1.1\r\nContent-Length: " + length + "\r\n" + END;
  }

  @Test
  void aHeadThatIsNotFinishedInItsTimeIsAnswered408() throws IOException {
    Raw slow = client().says("GET / HTTP/1.1\r\nHost: loc");
    assertThat(slow.hears()).startsWith("HTTP/1.1 408").contains("did not come within 1 s");
    assertThat(client().hears()).as("who says nothing").startsWith("HTTP/1.1 408");
  }

  @Test
  void aBodyThatIsNotFinishedInItsTimeIsAnswered408() throws IOException {
    Raw slow = client().says(post("/telemetry", 100) + "{");
    assertThat(slow.hears())
        .startsWith("HTTP/1.1 408")
        .contains("the body did not come within 1 s");
    Raw chunked =
        client().says("POST / HTTP/1.1\r\nTransfer-Encoding: chunked\r\n" + END + "1\r\n{\r\n");
    assertThat(chunked.hears()).startsWith("HTTP/1.1 408");
  }

  @Test
  void aBodyOrHeadThatIsTooLongIsAnsweredWithTheLimit() throws IOException {
    assertThat(client().says(post("/telemetry", 100_000) + "x".repeat(100_000)).hears())
        .startsWith("HTTP/1.1 200")
        .endsWith("took 100000");
    assertThat(client().says(post("/telemetry", 100_001) + "x".repeat(100_001)).hears())
        .startsWith("HTTP/1.1 413")
        .contains("longer than 100000 bytes");
    assertThat(client().says(post("/other", 1001) + "x".repeat(1001)).hears())
        .startsWith("HTTP/1.1 413")
        .contains("longer than 1000 bytes");
    String big = "X-Big: " + "x".repeat(3000) + "\r\n";
    assertThat(client().says("GET / HTTP/1.1\r\n" + big + END).hears())
        .startsWith("HTTP/1.1 431")
        .contains("longer than 2048 bytes");
    for (String odd : List.of("no such thing\r\n\r\n", "GET / HTTP/1.1\r\n: x\r\n\r\n")) {
      assertThat(client().says(odd).hears())
          .as(odd)
          .startsWith("HTTP/1.1 400")
          .contains("{\"fault\":");
    }
  }

  @Test
  void whoeverSendsAtOnceComesInWhateverSlowOnesHoldOpen() throws Exception {
    openWithTime();
    for (int i = 0; i < 100; i++) {
      client().says(i % 2 == 0 ? "GET / HTTP/1.1\r\nHo" : post("/telemetry", 1000) + "x");
      assertThat(get("/health")).as("after %s", i).startsWith("HTTP/1.1 200");
    }
    assertThat(clients.get(0).hears())
        .as("the first had to give way")
        .startsWith("HTTP/1.1 429")
        .contains("Retry-After: 1", "at most 16 from one address and 24 in all");
  }

  @Test
  void aFullMemoryForBodiesIsTakenFromWhoIsSlow() throws Exception {
    openWithTime();
    Raw slow = client().says(post("/telemetry", 100_000) + "x".repeat(99_000));
    assertThat(get("/health")).as("the slow one is being read").startsWith("HTTP/1.1 200");
    for (int i = 0; i < 3; i++) { // too much with it, in whatever order their bytes are read
      client().says(post("/telemetry", 100_000) + "x".repeat(99_000));
    }
    assertThat(client().says(post("/telemetry", 90_000) + "x".repeat(90_000)).hears())
        .startsWith("HTTP/1.1 200");
    assertThat(slow.hears()).startsWith("HTTP/1.1 429").contains("320000 bytes in all");
  }

  @Test
  void soManyAreWorkedAtOnceAndTheHealthBesideThem() throws Exception {
    for (int i = 0; i < NARROW.working(); i++) {
      client().says("GET /stay HTTP/1.1\r\n" + END);
    }
    inside.await();
    assertThat(get("/")).startsWith("HTTP/1.1 429").contains("2 requests are being worked");
    assertThat(get("/health")).startsWith("HTTP/1.1 200");
    leave.countDown();
    clients.get(0).hears();
    clients.get(1).hears();
    assertThat(get("/")).startsWith("HTTP/1.1 200");
  }
}

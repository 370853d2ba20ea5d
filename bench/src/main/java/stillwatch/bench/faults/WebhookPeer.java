package stillwatch.bench.faults;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;

/** An HTTP server that takes CloudEvents. */
final class WebhookPeer implements RoutePeer {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final Received received = new Received();
  private final HttpServer server;
  private volatile int answer = 204;

  WebhookPeer() throws IOException {
    server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    server.createContext(
        "/",
        x -> {
          JsonNode event = JSON.readTree(x.getRequestBody().readAllBytes());
          int now = answer;
          if (now < 300) {
            received.took(event.path("id").asText(), event.path("attempt").asInt() > 1);
          }
          x.sendResponseHeaders(now, -1);
          x.close();
        });
    server.start();
  }

  /** Answers so from now on; only 2xx takes a message. */
  void answer(int status) {
    answer = status;
  }

  @Override
  public int port() {
    return server.getAddress().getPort();
  }

  @Override
  public Received received() {
    return received;
  }

  @Override
  public void close() {
    server.stop(0);
  }
}

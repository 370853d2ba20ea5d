package stillwatch.bench.faults;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.util.Map;
import java.util.TreeMap;

/** The other side of the watch's route: an HTTP server that counts messages by their id. */
final class Peer implements AutoCloseable {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final Map<String, Integer> delivered = new TreeMap<>();
  private final int port;
  private volatile HttpServer server;
  private volatile int answer = 204;

  Peer() throws IOException {
    server = listen(0);
    port = server.getAddress().getPort();
  }

  private HttpServer listen(int at) throws IOException {
    HttpServer made =
        HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), at), 0);
    made.createContext(
        "/",
        x -> {
          String id = JSON.readTree(x.getRequestBody().readAllBytes()).path("id").asText();
          int now = answer;
          if (now < 300) {
            took(id);
          }
          x.sendResponseHeaders(now, -1);
          x.close();
        });
    made.start();
    return made;
  }

  private synchronized void took(String id) {
    delivered.merge(id, 1, Integer::sum);
  }

  /** Where it listens. */
  String url() {
    return "http://127.0.0.1:" + port + "/";
  }

  /** Answers so from now on; only 2xx takes a message. */
  void answer(int status) {
    answer = status;
  }

  /** Nobody listens any more. */
  void leave() {
    server.stop(0);
  }

  /** Somebody listens again. */
  void comeBack() throws IOException {
    server = listen(port);
  }

  /** How often each message came. */
  synchronized Map<String, Integer> delivered() {
    return new TreeMap<>(delivered);
  }

  @Override
  public void close() {
    leave();
  }
}

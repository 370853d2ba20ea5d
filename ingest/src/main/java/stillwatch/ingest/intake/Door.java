package stillwatch.ingest.intake;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpHandler;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.OutputStream;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/**
 * The HTTP door of an intake that runs alone: {@code POST /telemetry}, {@code GET
 * /telemetry/schema}, {@code GET /metrics}, {@code GET /health}.
 */
public final class Door implements AutoCloseable {
  private final HttpServer server;
  private final ExecutorService workers = Executors.newFixedThreadPool(8);

  /**
   * Opens the door.
   *
   * @param address where to listen; port 0 takes a free one
   * @param reception takes telemetry; null for a process that takes none and only says how it is
   * @param metrics the metrics in Prometheus text form
   * @param fault why the process cannot do its work now, in a sentence; empty while it can
   */
  public Door(
      InetSocketAddress address,
      @Nullable Reception reception,
      Supplier<String> metrics,
      Supplier<Optional<String>> fault)
      throws IOException {
    server = HttpServer.create(address, 0);
    server.setExecutor(workers);
    if (reception != null) {
      server.createContext("/telemetry", only("POST", x -> telemetry(x, reception)));
      server.createContext(
          "/telemetry/schema",
          only("GET", x -> send(x, 200, "application/schema+json", Reception.schema())));
    }
    server.createContext("/metrics", only("GET", x -> text(x, 200, metrics.get())));
    server.createContext("/health", only("GET", x -> health(x, fault.get())));
    server.start();
  }

  private static void telemetry(HttpExchange x, Reception reception) throws IOException {
    String source = x.getRemoteAddress().getAddress().getHostAddress();
    Reception.Answer answer = reception.take(x.getRequestBody(), source);
    send(x, answer.status(), "application/json", answer.json());
  }

  private static void health(HttpExchange x, Optional<String> fault) throws IOException {
    text(
        x, fault.isEmpty() ? 200 : 503, fault.map(why -> "blind: " + why + "\n").orElse("works\n"));
  }

  private static HttpHandler only(String method, HttpHandler handler) {
    return x -> {
      try (x) {
        if (x.getRequestMethod().equals(method)) {
          handler.handle(x);
        } else {
          x.getResponseHeaders().set("Allow", method);
          text(x, 405, "use " + method + "\n");
        }
      }
    };
  }

  private static void text(HttpExchange x, int status, String body) throws IOException {
    send(x, status, "text/plain; charset=utf-8", body.getBytes(StandardCharsets.UTF_8));
  }

  private static void send(HttpExchange x, int status, String type, byte[] body)
      throws IOException {
    x.getResponseHeaders().set("Content-Type", type);
    x.getResponseHeaders().set("X-Content-Type-Options", "nosniff");
    x.sendResponseHeaders(status, body.length == 0 ? -1 : body.length);
    try (OutputStream out = x.getResponseBody()) {
      out.write(body);
    }
  }

  /** The port it listens on. */
  public int port() {
    return server.getAddress().getPort();
  }

  @Override
  public void close() {
    server.stop(0);
    workers.shutdownNow();
  }
}

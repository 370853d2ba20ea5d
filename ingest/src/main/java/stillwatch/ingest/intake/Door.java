package stillwatch.ingest.intake;

import java.io.IOException;
import java.io.InputStream;
import java.net.InetSocketAddress;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.function.Supplier;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.io.Content;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.util.Callback;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.entrance.Gate;
import stillwatch.ingest.entrance.Limits;

/**
 * The HTTP door of an intake that runs alone: {@code POST /telemetry}, {@code GET
 * /telemetry/schema}, {@code GET /metrics}, {@code GET /health}. Whoever comes is held to the
 * {@link Limits}.
 */
public final class Door implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Door.class);

  private final Server server;
  private final ServerConnector connector;
  private final Supplier<Optional<String>> fault;
  private final @Nullable Reception reception;
  private final Supplier<String> metrics;

  /**
   * Opens the door.
   *
   * @param address where to listen; port 0 takes a free one
   * @param limits what whoever comes is held to
   * @param reception takes telemetry; null for a process that takes none and only says how it is
   * @param metrics the metrics in Prometheus text form
   * @param fault why the process cannot do its work now, in a sentence; empty while it can. It must
   *     be known and not be found out: whoever asks for health does not wait
   * @throws IOException when it cannot listen there
   */
  public Door(
      InetSocketAddress address,
      Limits limits,
      @Nullable Reception reception,
      Supplier<String> metrics,
      Supplier<Optional<String>> fault)
      throws IOException {
    this.reception = reception;
    this.metrics = metrics;
    this.fault = fault;
    Gate gate = new Gate(limits);
    gate.setHandler(new Rooms());
    server = new Server(gate.threads("door"));
    HttpConfiguration http = new HttpConfiguration();
    gate.holdHeads(http);
    connector = new ServerConnector(server, 1, 1, new HttpConnectionFactory(http));
    connector.setHost(address.getHostString());
    connector.setPort(address.getPort());
    gate.watch(connector);
    gate.stand(server);
    server.addConnector(connector);
    try {
      server.start();
    } catch (Exception e) {
      close();
      throw e instanceof IOException io ? io : new IOException("cannot open the door", e);
    }
  }

  /** What is behind the door. */
  private final class Rooms extends Handler.Abstract {
    @Override
    public boolean handle(Request request, Response response, Callback callback)
        throws IOException {
      response.getHeaders().put("X-Content-Type-Options", "nosniff");
      switch (Request.getPathInContext(request)) {
        case "/health" -> {
          if (only("GET", request, response, callback)) {
            Optional<String> why = fault.get();
            text(
                response,
                callback,
                why.isEmpty() ? 200 : 503,
                why.map(w -> "blind: " + w + "\n").orElse("works\n"));
          }
        }
        case "/metrics" -> {
          if (only("GET", request, response, callback)) {
            text(response, callback, 200, metrics.get());
          }
        }
        case "/telemetry/schema" -> {
          if (reception == null) {
            return false;
          }
          if (only("GET", request, response, callback)) {
            send(response, callback, 200, "application/schema+json", Reception.schema());
          }
        }
        case "/telemetry" -> {
          if (reception == null) {
            return false;
          }
          if (only("POST", request, response, callback)) {
            telemetry(request, response, callback, reception);
          }
        }
        default -> {
          return false;
        }
      }
      return true;
    }
  }

  private static boolean only(
      String method, Request request, Response response, Callback callback) {
    if (request.getMethod().equals(method)) {
      return true;
    }
    response.getHeaders().put(HttpHeader.ALLOW, method);
    text(response, callback, 405, "use " + method + "\n");
    return false;
  }

  private static void telemetry(
      Request request, Response response, Callback callback, Reception reception)
      throws IOException {
    if (request.getHeaders().contains(HttpHeader.ORIGIN)) {
      text(response, callback, 403, "a page of another site may not send telemetry\n");
      return;
    }
    String authorization =
        Optional.ofNullable(request.getHeaders().get(HttpHeader.AUTHORIZATION)).orElse("");
    String from = Request.getRemoteAddr(request);
    Senders senders = reception.senders();
    Optional<Sender> sender =
        senders.of(authorization, from).or(() -> senders.nameless(authorization, from));
    if (sender.isEmpty()) {
      response.getHeaders().put(HttpHeader.WWW_AUTHENTICATE, "Bearer");
      text(response, callback, 401, Senders.FAULT + "\n");
      return;
    }
    try (InputStream body = Content.Source.asInputStream(request)) {
      Reception.Answer answer = reception.take(body, sender.get());
      send(response, callback, answer.status(), "application/json", answer.json());
    }
  }

  private static void text(Response response, Callback callback, int status, String body) {
    send(
        response,
        callback,
        status,
        "text/plain; charset=utf-8",
        body.getBytes(StandardCharsets.UTF_8));
  }

  private static void send(
      Response response, Callback callback, int status, String type, byte[] body) {
    response.setStatus(status);
    response.getHeaders().put(HttpHeader.CONTENT_TYPE, type);
    response.write(true, ByteBuffer.wrap(body), callback);
  }

  /** The port it listens on. */
  public int port() {
    return connector.getLocalPort();
  }

  @Override
  public void close() {
    try {
      server.stop();
    } catch (Exception e) {
      LOG.warn("the door did not close cleanly: {}", e.toString());
    }
  }
}

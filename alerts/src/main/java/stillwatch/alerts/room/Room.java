package stillwatch.alerts.room;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import io.javalin.http.staticfiles.Location;
import io.javalin.util.JavalinBindException;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.UnknownHostException;
import java.util.List;
import java.util.NoSuchElementException;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.ingest.intake.Reception;

/** The operations-room page and its server. */
public final class Room implements AutoCloseable {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int COLUMNS_AT_MOST = 4000;
  private static final Set<String> LOOPBACK = Set.of("localhost", "127.0.0.1", "[::1]");

  private final RoomParts parts;
  private final Pictured pictured;
  private final Broadcast broadcast;
  private final Runnable deaf;
  private final Javalin server;
  private final boolean loopback;

  private Room(RoomParts parts, InetSocketAddress address) {
    this.parts = parts;
    loopback = address.getAddress() != null && address.getAddress().isLoopbackAddress();
    pictured = new Pictured(parts);
    broadcast = new Broadcast(pictured::state);
    deaf = parts.board().onChange(alarm -> broadcast.now());
    server = Javalin.create(this::configure);
  }

  /**
   * Opens the room.
   *
   * @param address where to listen; port 0 takes a free one
   * @throws RoomException when the address is taken or not this machine's
   */
  public static Room open(RoomParts parts, InetSocketAddress address) {
    Room room = new Room(parts, address);
    try {
      room.server.start(address.getHostString(), address.getPort());
    } catch (JavalinBindException e) {
      room.close();
      throw new RoomException(
          "the page cannot be opened at "
              + address
              + ": the port is taken or the address is not this machine's; give another with --http",
          e);
    }
    return room;
  }

  /** The port it listens on. */
  public int port() {
    return server.port();
  }

  private void configure(JavalinConfig config) {
    config.startup.showJavalinBanner = false;
    config.startup.showOldJavalinVersionWarning = false;
    config.startup.startupWatcherEnabled = false;
    config.http.maxRequestSize = 64L * 1024 * 1024;
    config.staticFiles.add(
        files -> {
          files.hostedPath = "/";
          files.directory = "/stillwatch/room/page";
          files.location = Location.CLASSPATH;
        });
    config.routes.before(this::guard);
    config.routes.get(
        "/uplot/uPlot.esm.js",
        c -> c.contentType("text/javascript; charset=utf-8").result(Library.text("uPlot.esm.js")));
    config.routes.get(
        "/uplot/uPlot.min.css",
        c -> c.contentType("text/css; charset=utf-8").result(Library.text("uPlot.min.css")));
    config.routes.get("/api/fixed", c -> json(c, pictured.fixed()));
    config.routes.get("/api/state", c -> json(c, pictured.state()));
    config.routes.get("/api/series", this::series);
    config.routes.get("/api/review", this::review);
    config.routes.get(
        "/api/alarms/{id}", c -> json(c, pictured.alarm(find(c.pathParam("id")), true)));
    config.routes.post("/api/alarms/{id}/acknowledge", this::acknowledge);
    config.routes.sse("/api/events", broadcast::join);
    config.routes.get(
        "/metrics",
        c ->
            c.contentType("text/plain; version=0.0.4; charset=utf-8")
                .result(parts.metrics().get()));
    config.routes.get("/health", this::health);
    Reception reception = parts.reception();
    if (reception != null) {
      config.routes.post("/telemetry", c -> telemetry(c, reception));
      config.routes.get(
          "/telemetry/schema",
          c -> c.contentType("application/schema+json").result(Reception.schema()));
    }
    config.routes.exception(
        NoSuchElementException.class, (e, c) -> fault(c, 404, String.valueOf(e.getMessage())));
    config.routes.exception(
        Refused.class, (e, c) -> fault(c, e.status, String.valueOf(e.getMessage())));
  }

  /** A request the room does not accept. */
  private static final class Refused extends RuntimeException {
    private static final long serialVersionUID = 1L;
    private final int status;

    Refused(int status, String message) {
      super(message);
      this.status = status;
    }
  }

  /**
   * Headers on every answer; and a room on the loopback address answers to this machine's own names
   * only.
   */
  private void guard(Context c) {
    c.header(
        "Content-Security-Policy",
        "default-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'self'");
    c.header("X-Content-Type-Options", "nosniff");
    c.header("Referrer-Policy", "no-referrer");
    c.header("Cache-Control", "no-store");
    String host = c.host();
    if (loopback && (host == null || !LOOPBACK.contains(host.replaceFirst(":[0-9]+$", "")))) {
      throw new Refused(403, "this room listens on this machine only; ask for http://localhost");
    }
    String origin = c.header("Origin");
    if (origin != null && !c.method().name().equals("GET") && !sameHost(origin, host)) {
      throw new Refused(403, "a page of another site may not act here");
    }
  }

  private static boolean sameHost(String origin, @Nullable String host) {
    try {
      return URI.create(origin).getAuthority() != null
          && URI.create(origin).getAuthority().equals(host);
    } catch (IllegalArgumentException e) {
      return false;
    }
  }

  private void series(Context c) {
    String gauges = c.queryParam("gauges");
    List<String> asked =
        gauges == null || gauges.isEmpty() ? List.of() : List.of(gauges.split(",", -1));
    json(
        c,
        pictured.series(
            asked,
            whole(c, "span_s", 0, Integer.MAX_VALUE) * 1000L,
            (int) whole(c, "points", 600, COLUMNS_AT_MOST)));
  }

  private static long whole(Context c, String name, long standard, long most) {
    String text = c.queryParam(name);
    if (text == null) {
      return standard;
    }
    if (!text.matches("[0-9]{1,10}")
        || Long.parseLong(text) > most
        || (standard > 0 && Long.parseLong(text) == 0)) {
      throw new Refused(
          400, "'" + name + "' must be a whole number of at most " + most + ", not '" + text + "'");
    }
    return Long.parseLong(text);
  }

  private void review(Context c) {
    json(
        c,
        parts
            .review()
            .whole()
            .orElseThrow(() -> new NoSuchElementException("the build-up has not been read yet")));
  }

  private DeskAlarm find(String id) {
    return parts
        .board()
        .find(id)
        .orElseThrow(() -> new NoSuchElementException("there is no alarm '" + id + "'"));
  }

  private void acknowledge(Context c) {
    String type = c.contentType();
    if (type == null || !type.startsWith("application/json")) {
      throw new Refused(415, "send the acknowledgement as application/json");
    }
    JsonNode body;
    try {
      body = JSON.readTree(c.bodyAsBytes());
    } catch (IOException e) {
      throw new Refused(400, "the acknowledgement is not readable as JSON");
    }
    String by = body.path("by").asText("").strip();
    String note = body.path("note").asText("").strip();
    if (by.isEmpty() || by.length() > 200) {
      throw new Refused(
          400,
          "say who acknowledges, in at most 200 characters: {\"by\": \"name\", \"note\": \"\"}");
    }
    if (note.length() > 5000) {
      throw new Refused(400, "the note is longer than 5000 characters");
    }
    json(c, pictured.alarm(parts.board().acknowledge(c.pathParam("id"), by, note), false));
  }

  private void telemetry(Context c, Reception reception) throws IOException {
    Reception.Answer answer = reception.take(c.bodyInputStream(), c.ip());
    c.status(answer.status()).contentType("application/json").result(answer.json());
  }

  private void health(Context c) {
    List<String> blind = parts.watchdog().blind();
    ObjectNode n = JSON.createObjectNode().put("watching", blind.isEmpty());
    blind.forEach(n.putArray("blind")::add);
    c.status(blind.isEmpty() ? 200 : 503);
    json(c, n);
  }

  private static void fault(Context c, int status, String text) {
    c.status(status);
    json(c, JSON.createObjectNode().put("fault", text));
  }

  private static void json(Context c, ObjectNode n) {
    try {
      c.contentType("application/json; charset=utf-8").result(JSON.writeValueAsBytes(n));
    } catch (JsonProcessingException e) {
      throw new UncheckedIOException("cannot write JSON to memory", e);
    }
  }

  /** The address of this machine's loopback. */
  public static InetSocketAddress loopback(int port) {
    try {
      return new InetSocketAddress(InetAddress.getByName("127.0.0.1"), port);
    } catch (UnknownHostException e) {
      throw new IllegalStateException("an address in figures needs no look-up", e);
    }
  }

  @Override
  public void close() {
    deaf.run();
    broadcast.close();
    server.stop();
  }
}

package stillwatch.alerts.room;

import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.config.RoutesConfig;
import io.javalin.http.HttpResponseException;
import io.javalin.http.staticfiles.Location;
import io.javalin.util.JavalinBindException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.UnknownHostException;
import java.time.Clock;
import java.util.NoSuchElementException;
import java.util.concurrent.RejectedExecutionException;
import javax.net.ssl.SSLContext;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.SecureRequestCustomizer;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.util.ssl.SslContextFactory;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.alerts.journal.JournalException;
import stillwatch.alerts.people.BusyException;
import stillwatch.alerts.people.People;
import stillwatch.alerts.people.Person;
import stillwatch.alerts.people.Role;
import stillwatch.ingest.entrance.Gate;
import stillwatch.ingest.entrance.Limits;

/** The operations-room page and its server. */
public final class Room implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Room.class);

  private final RoomParts parts;
  private final RoomJson json;
  private final Broadcast broadcast;
  private final Runnable deaf;
  private final Javalin server;
  private final Guard guard;

  private Room(RoomParts parts, InetSocketAddress address) {
    this.parts = parts;
    boolean loopback = address.getAddress() != null && address.getAddress().isLoopbackAddress();
    guard =
        new Guard(
            parts.people(),
            parts.open() && loopback,
            loopback,
            parts.tls() != null,
            Clock.systemUTC());
    json = new RoomJson(parts);
    broadcast = new Broadcast(json::state);
    deaf = parts.board().onChange(alarm -> broadcast.now());
    server =
        Javalin.create(
            config -> {
              configure(config);
              listen(config, address);
            });
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

  private void listen(JavalinConfig config, InetSocketAddress address) {
    Gate gate = new Gate(Limits.USUAL);
    config.jetty.threadPool = gate.threads("page");
    config.jetty.modifyServer(gate::stand);
    config.jetty.modifyHttpConfiguration(gate::holdHeads);
    config.jetty.addConnector(
        (jetty, http) -> {
          SSLContext tls = parts.tls();
          ServerConnector connector =
              tls == null
                  ? new ServerConnector(jetty, 1, 1, new HttpConnectionFactory(http))
                  : secure(jetty, http, tls);
          connector.setHost(address.getHostString());
          connector.setPort(address.getPort());
          gate.watch(connector);
          return connector;
        });
  }

  private static ServerConnector secure(Server jetty, HttpConfiguration http, SSLContext tls) {
    SslContextFactory.Server secrets = new SslContextFactory.Server();
    secrets.setSslContext(tls);
    secrets.setIncludeProtocols("TLSv1.3", "TLSv1.2");
    http.addCustomizer(new SecureRequestCustomizer(false));
    return new ServerConnector(jetty, secrets, new HttpConnectionFactory(http));
  }

  private void configure(JavalinConfig config) {
    config.startup.showJavalinBanner = false;
    config.startup.showOldJavalinVersionWarning = false;
    config.startup.startupWatcherEnabled = false;
    config.http.maxRequestSize = Limits.USUAL.bodyBytes();
    config.staticFiles.add(
        files -> {
          files.hostedPath = "/";
          files.directory = "/stillwatch/room/page";
          files.location = Location.CLASSPATH;
        });
    config.routes.before(guard::every);
    config.routes.get(
        "/uplot/uPlot.esm.js",
        c -> c.contentType("text/javascript; charset=utf-8").result(Library.text("uPlot.esm.js")));
    config.routes.get(
        "/uplot/uPlot.min.css",
        c -> c.contentType("text/css; charset=utf-8").result(Library.text("uPlot.min.css")));
    ApiDocument document = new ApiDocument();
    new Answers(parts, json, guard, document).on(config.routes);
    RecordPen record = new RecordPen(parts, Clock.systemUTC());
    Posts posts = new Posts(config.routes, guard, document);
    new Actions(parts, json, guard).on(posts);
    new ShiftActions(parts, record).on(posts);
    new LogActions(parts, json, record).on(posts);
    new Entrance(parts.people(), guard, document).on(config.routes);
    config.routes.before("/api/events", c -> looks(guard.may(c, Role.LOOK)));
    config.routes.sse(
        "/api/events", client -> broadcast.join(client, guard.still(client.ctx(), Role.LOOK)));
    faults(config.routes);
  }

  /** What is answered to what cannot be done. */
  private static void faults(RoutesConfig routes) {
    routes.exception(NoSuchElementException.class, (e, c) -> Answers.fault(c, 404, e.getMessage()));
    routes.exception(
        IllegalArgumentException.class, (e, c) -> Answers.fault(c, 400, e.getMessage()));
    routes.exception(People.PeopleException.class, (e, c) -> Answers.fault(c, 400, e.getMessage()));
    routes.exception(
        RequestException.class, (e, c) -> Answers.fault(c, e.status(), e.getMessage()));
    routes.exception(
        BusyException.class,
        (e, c) -> {
          c.header("Retry-After", "1");
          Answers.fault(c, 429, e.getMessage());
        });
    routes.exception(
        JournalException.class,
        (e, c) -> {
          LOG.error("a request could not be served: {}", e.getMessage());
          Answers.fault(
              c, 503, "the journal does not answer; see whether it was entered, and try again");
        });
    routes.exception(
        HttpResponseException.class,
        (e, c) -> Answers.fault(c, e.getStatus(), String.valueOf(e.getMessage())));
    routes.exception(
        RejectedExecutionException.class, (e, c) -> Answers.fault(c, 503, "the watch is ending"));
  }

  private static void looks(Person person) {
    LOG.debug("{} looks", person.name());
  }

  /** The address of this machine's loopback. */
  public static InetSocketAddress loopback(int port) {
    try {
      return new InetSocketAddress(InetAddress.getByAddress(new byte[] {127, 0, 0, 1}), port);
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

package stillwatch.ingest.entrance;

import java.nio.ByteBuffer;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.io.Connection;
import org.eclipse.jetty.io.Content;
import org.eclipse.jetty.io.content.ByteBufferContentSource;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.util.Callback;
import org.eclipse.jetty.util.thread.QueuedThreadPool;

/**
 * Stands before every door and holds whoever comes to the {@link Limits}: only whole requests come
 * through, and only so many at once. Who asks for {@code /health} is not counted, and threads are
 * left for them. Safe from any thread.
 */
public final class Gate extends Handler.Wrapper {
  private static final String TELEMETRY = "/telemetry";
  private static final String HEALTH = "/health";
  private static final int THREADS_BESIDE = 16;
  private static final int FEWEST_THREADS = 4;

  private final Limits limits;
  private final Connections connections;
  private final Bodies bodies;
  private final Semaphore working;
  private final ScheduledExecutorService keeper =
      Executors.newSingleThreadScheduledExecutor(
          r -> {
            Thread t = new Thread(r, "gate-keeper");
            t.setDaemon(true);
            return t;
          });

  /** A gate that keeps to these. */
  public Gate(Limits limits) {
    this.limits = limits;
    connections = new Connections(limits, System::nanoTime);
    bodies = new Bodies(limits.bodiesBytes(), connections::slowestBut);
    working = new Semaphore(limits.working());
  }

  /** The threads for a door behind this gate. */
  public QueuedThreadPool threads(String name) {
    QueuedThreadPool pool = new QueuedThreadPool(limits.working() + THREADS_BESIDE, FEWEST_THREADS);
    pool.setName(name);
    pool.setDaemon(true);
    return pool;
  }

  /** Puts the gate before everything that this server does. */
  public void stand(Server server) {
    server.setHandler(this);
    server.setErrorHandler(new Faults(limits));
    server.setStopTimeout(0);
  }

  /** Holds whoever comes by this connector. */
  public void watch(ServerConnector connector) {
    connector.addBean(connections);
    connector.setIdleTimeout(limits.idle().toMillis());
    connector.setAcceptQueueSize(limits.connections());
  }

  /** Holds the heads of requests. */
  public void holdHeads(HttpConfiguration http) {
    http.setRequestHeaderSize(limits.headBytes());
    http.setSendServerVersion(false);
    http.setSendDateHeader(false);
  }

  @Override
  protected void doStart() throws Exception {
    super.doStart();
    var unused = keeper.scheduleWithFixedDelay(connections::sweep, 500, 500, TimeUnit.MILLISECONDS);
  }

  @Override
  protected void doStop() throws Exception {
    keeper.shutdownNow();
    super.doStop();
  }

  @Override
  public boolean handle(Request request, Response response, Callback callback) {
    Connection c = request.getConnectionMetaData().getConnection();
    int most =
        Request.getPathInContext(request).equals(TELEMETRY)
            ? limits.bodyBytes()
            : limits.askedBytes();
    Body body = new Body(request, most, bodies, new Turn(request, response, callback, c));
    connections.reads(c, body);
    Request.addCompletionListener(
        request,
        fault -> {
          body.done();
          connections.waits(c);
        });
    body.run();
    return true;
  }

  /** What happens with one request when its body has come, or does not come. */
  private final class Turn implements Body.Receiver {
    private final Request request;
    private final Response response;
    private final Callback callback;
    private final Connection connection;

    Turn(Request request, Response response, Callback callback, Connection connection) {
      this.request = request;
      this.response = response;
      this.callback = callback;
      this.connection = connection;
    }

    @Override
    public void whole(ByteBuffer bytes) {
      connections.works(connection);
      if (Request.getPathInContext(request).equals(HEALTH)) {
        work(bytes);
      } else if (working.tryAcquire()) {
        try {
          work(bytes);
        } finally {
          working.release();
        }
      } else {
        Faults.write(
            response,
            callback,
            429,
            limits.working() + " requests are being worked already; ask again in a second");
      }
    }

    private void work(ByteBuffer bytes) {
      try {
        if (!Gate.super.handle(new Whole(request, bytes), response, callback)) {
          Response.writeError(request, response, callback, 404);
        }
      } catch (Exception e) {
        Response.writeError(request, response, callback, e);
      }
    }

    @Override
    public void refused(int status, String why) {
      response.getHeaders().put(HttpHeader.CONNECTION, "close");
      Faults.write(response, callback, status, why);
    }

    @Override
    public void lost(Throwable why) {
      refused(408, "the body stopped coming");
    }
  }

  /** A request whose body is here. */
  private static final class Whole extends Request.Wrapper {
    private final Content.Source source;

    Whole(Request request, ByteBuffer bytes) {
      super(request);
      source = new ByteBufferContentSource(bytes);
    }

    @Override
    public Content.Chunk read() {
      return source.read();
    }

    @Override
    public void demand(Runnable demandCallback) {
      source.demand(demandCallback);
    }

    @Override
    public void fail(Throwable failure) {
      source.fail(failure);
    }

    @Override
    public boolean consumeAvailable() {
      return true;
    }
  }
}

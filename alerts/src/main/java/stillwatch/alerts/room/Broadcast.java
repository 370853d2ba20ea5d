package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.sse.SseClient;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Sends the state to every open page once a second, and at once when told; when there is none to be
 * had, why. A page that does not take it in time misses a state, never holds up the others. Before
 * each beat the pages of those who may not look any more are closed. Safe from any thread.
 */
final class Broadcast implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Broadcast.class);

  /** In a flood the pages hear of many changes at once. */
  private static final long GATHERED_MS = 50;

  private final Supplier<ObjectNode> state;
  private final AtomicBoolean soon = new AtomicBoolean();
  private final Map<SseClient, Page> pages = new ConcurrentHashMap<>();
  private final ExecutorService senders =
      Executors.newCachedThreadPool(r -> daemon(r, "page-sender"));
  private final ScheduledExecutorService beat =
      Executors.newSingleThreadScheduledExecutor(r -> daemon(r, "page-beat"));

  Broadcast(Supplier<ObjectNode> state) {
    this.state = state;
    var unused = beat.scheduleAtFixedRate(this::beat, 0, 1, TimeUnit.SECONDS);
  }

  /** An open page. */
  private record Page(BooleanSupplier may, AtomicBoolean busy) {}

  private static Thread daemon(Runnable r, String name) {
    Thread t = new Thread(r, name);
    t.setDaemon(true);
    return t;
  }

  /**
   * A page opens.
   *
   * @param may whether it may still be told the state
   */
  void join(SseClient client, BooleanSupplier may) {
    client.keepAlive();
    client.onClose(() -> pages.remove(client));
    pages.put(client, new Page(may, new AtomicBoolean()));
    now();
  }

  private void beat() {
    try {
      pages.forEach(this::closeUnlessMay);
    } catch (RuntimeException e) { // nobody can say; then there is no state to be told either
      LOG.warn("whether the pages may still look cannot be looked up: {}", e.toString());
    }
    all();
  }

  private void closeUnlessMay(SseClient client, Page page) {
    if (!page.may().getAsBoolean()) {
      pages.remove(client);
      senders.execute(client::close);
    }
  }

  /** Sends the state soon, beside the beat; what changes meanwhile goes with it. */
  void now() {
    if (soon.compareAndSet(false, true)) {
      var unused =
          beat.schedule(
              () -> {
                soon.set(false);
                all();
              },
              GATHERED_MS,
              TimeUnit.MILLISECONDS);
    }
  }

  private void all() {
    if (pages.isEmpty()) {
      return;
    }
    try {
      String text = state.get().toString();
      pages.forEach((client, page) -> send(client, page.busy(), "state", text));
    } catch (RuntimeException e) { // a beat that throws would never beat again
      LOG.error("the state could not be sent to the pages: {}", e.toString());
      pages.forEach(
          (client, page) -> send(client, page.busy(), "fault", String.valueOf(e.getMessage())));
    }
  }

  private void send(SseClient client, AtomicBoolean sending, String event, String text) {
    if (client.terminated()) {
      pages.remove(client);
    } else if (sending.compareAndSet(false, true)) {
      senders.execute(
          () -> {
            try {
              client.sendEvent(event, text);
            } finally {
              sending.set(false);
            }
          });
    }
  }

  @Override
  public void close() {
    beat.shutdownNow();
    pages.keySet().forEach(SseClient::close);
    senders.shutdownNow();
  }
}

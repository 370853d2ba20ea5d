package stillwatch.alerts.watchdog;

import java.io.IOException;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import javax.net.ssl.SSLContext;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.rules.plan.Plan;

/**
 * Asks for an address again and again while the watch can see, so that a watcher outside notices
 * when it no longer does. One thread runs it.
 */
public final class Heartbeat implements Runnable, AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Heartbeat.class);
  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final Plan.Heartbeat plan;
  private final BooleanSupplier sees;
  private final HttpClient client;
  private final CountDownLatch closing = new CountDownLatch(1);

  /**
   * A heart that beats while the watch sees.
   *
   * @param tls whom it trusts where the address speaks TLS
   */
  public Heartbeat(Plan.Heartbeat plan, BooleanSupplier sees, SSLContext tls) {
    client = HttpClient.newBuilder().sslContext(tls).connectTimeout(PATIENCE).build();
    this.plan = plan;
    this.sees = sees;
  }

  @Override
  public void run() {
    try {
      do {
        if (sees.getAsBoolean()) {
          beat();
        }
      } while (!closing.await(plan.every().toMillis(), TimeUnit.MILLISECONDS));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void beat() throws InterruptedException {
    try {
      HttpRequest request = HttpRequest.newBuilder(plan.url()).timeout(PATIENCE).GET().build();
      int status = client.send(request, HttpResponse.BodyHandlers.discarding()).statusCode();
      if (status >= 400) {
        LOG.warn("the watcher outside at {} answered {}", plan.url(), status);
      }
    } catch (IOException e) {
      LOG.warn("the watcher outside at {} cannot be reached: {}", plan.url(), e.toString());
    }
  }

  @Override
  public void close() {
    closing.countDown();
  }
}

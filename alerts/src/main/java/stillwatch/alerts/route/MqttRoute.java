package stillwatch.alerts.route;

import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.lifecycle.MqttClientDisconnectedContext;
import com.hivemq.client.mqtt.mqtt3.Mqtt3AsyncClient;
import com.hivemq.client.mqtt.mqtt3.Mqtt3ClientBuilder;
import com.hivemq.client.mqtt.mqtt3.message.publish.Mqtt3Publish;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.door.MqttServer;
import stillwatch.ingest.entrance.Trust;
import stillwatch.rules.plan.RoutePlan;

/**
 * Publishes alerts to an MQTT broker (OASIS MQTT 3.1.1), at least once, as CloudEvents under {@code
 * TOPIC/WELL/alerts}. Under {@code TOPIC/WELL/watch} stands {@code here}, published again at each
 * connection; the broker itself turns it into {@code gone} when this watch is lost. A connection
 * that is lost is made again without an alert in between.
 */
final class MqttRoute implements Route {
  private static final int PATIENCE_S = 10;
  private static final int FAREWELL_S = 1;
  private static final int LONGEST_PAUSE_S = 30;

  private final RoutePlan plan;
  private final RoutePlan.Mqtt mqtt;
  private final String base;
  private final Trust trust;
  private final Object turn = new Object();
  private @Nullable Mqtt3AsyncClient client;
  private boolean closed;
  private volatile @Nullable Throwable lost;

  MqttRoute(RoutePlan plan, RoutePlan.Mqtt mqtt, String well, Trust trust) {
    this.trust = trust;
    this.plan = plan;
    this.mqtt = mqtt;
    base = mqtt.topic() + "/" + well;
  }

  @Override
  public RoutePlan plan() {
    return plan;
  }

  @Override
  public void open() throws DeliveryException {
    synchronized (turn) {
      if (client == null && !closed) {
        Mqtt3AsyncClient made = made();
        client = made;
        var unused = made.connectWith().keepAlive(PATIENCE_S).cleanSession(true).send();
      }
    }
  }

  @Override
  public void deliver(Delivery d) throws DeliveryException, InterruptedException {
    publish("/alerts", CloudEvent.of(d), false);
  }

  @Override
  public void digest(String text) throws DeliveryException, InterruptedException {
    publish("/digest", text.getBytes(StandardCharsets.UTF_8), true);
  }

  private Mqtt3AsyncClient made() throws DeliveryException {
    String id = "stillwatch-" + Integer.toHexString(base.hashCode());
    Mqtt3ClientBuilder builder =
        MqttServer.client(URI.create(mqtt.server()), id, trust)
            .useMqttVersion3()
            .automaticReconnect()
            .initialDelay(1, TimeUnit.SECONDS)
            .maxDelay(LONGEST_PAUSE_S, TimeUnit.SECONDS)
            .applyAutomaticReconnect()
            .addConnectedListener(c -> here())
            .addDisconnectedListener(this::lost)
            .willPublish(message("/watch", bytes("gone"), true));
    String user = mqtt.user();
    Path file = mqtt.password();
    if (user != null && file != null) {
      builder =
          builder
              .simpleAuth()
              .username(user)
              .password(bytes(SecretFile.read(file)))
              .applySimpleAuth();
    }
    return builder.buildAsync();
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  private Mqtt3Publish message(String under, byte[] bytes, boolean kept) {
    return Mqtt3Publish.builder()
        .topic(base + under)
        .payload(bytes)
        .qos(MqttQos.AT_LEAST_ONCE)
        .retain(kept)
        .build();
  }

  private void here() {
    synchronized (turn) {
      lost = null;
      Mqtt3AsyncClient known = client;
      if (known != null) {
        var unused =
            closed ? known.disconnect() : known.publish(message("/watch", bytes("here"), true));
      }
      turn.notifyAll();
    }
  }

  private void lost(MqttClientDisconnectedContext context) {
    synchronized (turn) {
      lost = context.getCause();
      if (closed) {
        context.getReconnector().reconnect(false);
      }
      turn.notifyAll();
    }
  }

  private void publish(String under, byte[] bytes, boolean kept)
      throws DeliveryException, InterruptedException {
    try {
      connected().publish(message(under, bytes, kept)).get(PATIENCE_S, TimeUnit.SECONDS);
    } catch (ExecutionException e) {
      throw notTaken(e);
    } catch (TimeoutException e) {
      throw notTaken(new TimeoutException("no answer within " + PATIENCE_S + " s"));
    }
  }

  /** Nothing is given to a client that is not connected: it would send it later, and again. */
  private Mqtt3AsyncClient connected() throws DeliveryException, InterruptedException {
    open();
    synchronized (turn) {
      long endNs = System.nanoTime() + TimeUnit.SECONDS.toNanos(PATIENCE_S);
      while (!closed && client != null && !client.getState().isConnected()) {
        Throwable why = lost;
        long leftMs = TimeUnit.NANOSECONDS.toMillis(endNs - System.nanoTime());
        if (why != null || leftMs <= 0) {
          throw notTaken(
              why instanceof Exception e
                  ? e
                  : new TimeoutException("not connected within " + PATIENCE_S + " s"));
        }
        turn.wait(leftMs);
      }
      if (closed || client == null) {
        throw new DeliveryException("the route is closed");
      }
      return client;
    }
  }

  private DeliveryException notTaken(Exception why) {
    return DeliveryException.because("the MQTT broker " + mqtt.server() + " did not take it", why);
  }

  @Override
  public void close() {
    @Nullable Mqtt3AsyncClient known;
    synchronized (turn) {
      known = client;
      closed = true;
      turn.notifyAll();
    }
    if (known != null) {
      CompletableFuture<?> farewell =
          known.getState().isConnected()
              ? known.publish(message("/watch", bytes("gone"), true))
              : CompletableFuture.completedFuture(null);
      try {
        var unused =
            farewell
                .handle((taken, fault) -> fault)
                .thenCompose(fault -> known.disconnect())
                .get(FAREWELL_S, TimeUnit.SECONDS);
      } catch (ExecutionException | TimeoutException e) {
        // it is gone already, and the broker says so
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
    }
  }
}

package stillwatch.alerts.route;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import javax.net.ssl.SSLContext;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.plan.RoutePlan;

/**
 * Publishes alerts to an MQTT broker (OASIS MQTT 3.1.1), at least once, as CloudEvents under {@code
 * TOPIC/WELL/alerts}. Under {@code TOPIC/WELL/watch} stands {@code here}, which the broker itself
 * turns into {@code gone} when this watch is lost.
 */
final class MqttRoute implements Route {
  private static final int AT_LEAST_ONCE = 1;
  private static final int PATIENCE_S = 10;

  private final RoutePlan plan;
  private final RoutePlan.Mqtt mqtt;
  private final String base;
  private final SSLContext tls;
  private @Nullable MqttClient client;

  MqttRoute(RoutePlan plan, RoutePlan.Mqtt mqtt, String well, SSLContext tls) {
    this.tls = tls;
    this.plan = plan;
    this.mqtt = mqtt;
    base = mqtt.topic() + "/" + well;
  }

  @Override
  public RoutePlan plan() {
    return plan;
  }

  @Override
  public void deliver(Delivery d) throws DeliveryException {
    publish(base + "/alerts", CloudEvent.of(d), false);
  }

  @Override
  public void digest(String text) throws DeliveryException {
    publish(base + "/digest", text.getBytes(StandardCharsets.UTF_8), true);
  }

  private synchronized void publish(String topic, byte[] bytes, boolean kept)
      throws DeliveryException {
    try {
      connected().publish(topic, bytes, AT_LEAST_ONCE, kept);
    } catch (MqttException e) {
      throw DeliveryException.because("the MQTT broker " + mqtt.server() + " did not take it", e);
    }
  }

  private MqttClient connected() throws MqttException, DeliveryException {
    MqttClient known = client;
    if (known != null && known.isConnected()) {
      return known;
    }
    close();
    MqttClient made =
        new MqttClient(
            mqtt.server(),
            "stillwatch-" + Integer.toHexString(base.hashCode()),
            new MemoryPersistence());
    made.setTimeToWait(PATIENCE_S * 1000L);
    made.connect(options());
    made.publish(base + "/watch", "here".getBytes(StandardCharsets.UTF_8), AT_LEAST_ONCE, true);
    client = made;
    return made;
  }

  private MqttConnectOptions options() throws DeliveryException {
    MqttConnectOptions options = new MqttConnectOptions();
    options.setConnectionTimeout(PATIENCE_S);
    options.setKeepAliveInterval(PATIENCE_S);
    options.setWill(base + "/watch", "gone".getBytes(StandardCharsets.UTF_8), AT_LEAST_ONCE, true);
    if (mqtt.server().startsWith("ssl:")) {
      options.setSocketFactory(tls.getSocketFactory());
    }
    String user = mqtt.user();
    Path file = mqtt.password();
    if (user != null && file != null) {
      options.setUserName(user);
      options.setPassword(SecretFile.read(file).toCharArray());
    }
    return options;
  }

  @Override
  public synchronized void close() {
    MqttClient known = client;
    client = null;
    if (known != null) {
      try {
        known.disconnectForcibly(0, 1000, false); // the broker then says that it is gone
        known.close(true);
      } catch (MqttException e) {
        // it is gone already
      }
    }
  }
}

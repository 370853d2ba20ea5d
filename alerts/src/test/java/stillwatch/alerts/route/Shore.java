package stillwatch.alerts.route;

import com.hivemq.client.mqtt.MqttClient;
import com.hivemq.client.mqtt.MqttClientSslConfig;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.mqtt3.Mqtt3AsyncClient;
import com.hivemq.client.mqtt.mqtt3.Mqtt3ClientBuilder;
import java.nio.charset.StandardCharsets;
import java.util.UUID;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.entrance.Trust;

/** Somebody on shore who listens to an MQTT broker. */
final class Shore implements AutoCloseable {
  private final BlockingQueue<String> got = new LinkedBlockingQueue<>();
  private final Mqtt3AsyncClient client;

  /**
   * Listens.
   *
   * @param trust whom they trust; null without TLS
   */
  Shore(int port, @Nullable Trust trust, String filter) throws Exception {
    Mqtt3ClientBuilder builder =
        MqttClient.builder()
            .useMqttVersion3()
            .identifier("shore-" + UUID.randomUUID())
            .serverHost("127.0.0.1")
            .serverPort(port);
    if (trust != null) {
      builder =
          builder.sslConfig(
              MqttClientSslConfig.builder().trustManagerFactory(trust.authorities()).build());
    }
    client = connected(builder);
    client
        .subscribeWith()
        .topicFilter(filter)
        .qos(MqttQos.AT_LEAST_ONCE)
        .callback(
            m ->
                got.add(
                    m.getTopic() + " " + new String(m.getPayloadAsBytes(), StandardCharsets.UTF_8)))
        .send()
        .get(20, TimeUnit.SECONDS);
  }

  /** Moquette 0.17 leaves a connection without an answer now and then: it is asked three times. */
  private static Mqtt3AsyncClient connected(Mqtt3ClientBuilder builder) throws Exception {
    for (int tries = 1; ; tries++) {
      Mqtt3AsyncClient client = builder.buildAsync();
      try {
        client.connect().get(10, TimeUnit.SECONDS);
        return client;
      } catch (TimeoutException e) {
        if (tries == 3) {
          throw e;
        }
      }
    }
  }

  /** What comes next; "nothing" when nothing comes. */
  String next() throws InterruptedException {
    String message = got.poll(40, TimeUnit.SECONDS);
    return message == null ? "nothing" : message;
  }

  /** Has the broker keep this text of a topic. */
  void say(String topic, String text) throws Exception {
    var unused =
        client
            .publishWith()
            .topic(topic)
            .payload(text.getBytes(StandardCharsets.UTF_8))
            .qos(MqttQos.AT_LEAST_ONCE)
            .retain(true)
            .send()
            .get(20, TimeUnit.SECONDS);
  }

  @Override
  public void close() {
    var unused = client.disconnect();
  }
}

package stillwatch.ingest.door;

import com.hivemq.client.mqtt.MqttClient;
import com.hivemq.client.mqtt.MqttClientBuilder;
import com.hivemq.client.mqtt.MqttClientSslConfig;
import java.net.URI;
import javax.net.ssl.KeyManagerFactory;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.entrance.Trust;

/**
 * Where an MQTT broker is, for whoever connects to it: {@code tcp://host} or {@code ssl://host}.
 */
public final class MqttServer {
  private static final int TLS_PORT = 8883;
  private static final int PLAIN_PORT = 1883;

  private MqttServer() {}

  /**
   * A client of it that shows no certificate and is yet to be told its version.
   *
   * @param server its address; without a port the usual one (IANA: 1883, and 8883 over TLS)
   * @param client the client identifier
   * @param trust whom it trusts over TLS
   */
  public static MqttClientBuilder client(URI server, String client, Trust trust) {
    return client(server, client, trust, null);
  }

  /**
   * A client of it that is yet to be told its version.
   *
   * @param key with what it shows who it is over TLS; null without
   */
  static MqttClientBuilder client(
      URI server, String client, Trust trust, @Nullable KeyManagerFactory key) {
    boolean secured = "ssl".equals(server.getScheme());
    int port = server.getPort() > 0 ? server.getPort() : secured ? TLS_PORT : PLAIN_PORT;
    MqttClientBuilder builder =
        MqttClient.builder().identifier(client).serverHost(server.getHost()).serverPort(port);
    return secured
        ? builder.sslConfig(
            MqttClientSslConfig.builder()
                .trustManagerFactory(trust.authorities())
                .keyManagerFactory(key)
                .build())
        : builder;
  }
}

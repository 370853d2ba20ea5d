package stillwatch.station;

import com.hivemq.client.mqtt.MqttClient;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.mqtt5.Mqtt5AsyncClient;
import com.hivemq.client.mqtt.mqtt5.message.disconnect.Mqtt5DisconnectReasonCode;
import com.hivemq.client.mqtt.mqtt5.message.publish.Mqtt5Publish;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Date;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.atomic.AtomicInteger;
import org.eclipse.tahu.SparkplugException;
import org.eclipse.tahu.message.SparkplugBPayloadDecoder;
import org.eclipse.tahu.message.SparkplugBPayloadEncoder;
import org.eclipse.tahu.message.model.Metric;
import org.eclipse.tahu.message.model.Metric.MetricBuilder;
import org.eclipse.tahu.message.model.MetricDataType;
import org.eclipse.tahu.message.model.PropertyDataType;
import org.eclipse.tahu.message.model.PropertySet.PropertySetBuilder;
import org.eclipse.tahu.message.model.PropertyValue;
import org.eclipse.tahu.message.model.SparkplugBPayload.SparkplugBPayloadBuilder;

/**
 * An edge node of Sparkplug B, {@code gateway} of the group {@code larkspur}, with a device. It is
 * born when it is asked to be. Its payloads are made, and what it is told is read, by Eclipse Tahu.
 */
@SuppressWarnings("JavaUtilDate") // Tahu has times so
final class EdgeNode implements AutoCloseable {
  static final long RAMS = 1;
  static final long PORT = 2;
  static final long STARBOARD = 3;

  private static final Map<Long, MetricDataType> TYPES =
      Map.of(
          RAMS, MetricDataType.Float, PORT, MetricDataType.Double, STARBOARD, MetricDataType.Int32);
  private static final Map<Long, String> NAMES =
      Map.of(RAMS, "rams", PORT, "port", STARBOARD, "starboard");

  private final Map<Long, Object> values =
      new TreeMap<>(Map.of(RAMS, -4.5f, PORT, 46_900.5, STARBOARD, 46_890));
  private final AtomicInteger births = new AtomicInteger();
  private final Mqtt5AsyncClient client;
  private int seq;

  private EdgeNode(Mqtt5AsyncClient client) {
    this.client = client;
  }

  static EdgeNode at(int port) throws Exception {
    EdgeNode node =
        new EdgeNode(
            MqttClient.builder()
                .useMqttVersion5()
                .identifier("gateway")
                .serverHost("127.0.0.1")
                .serverPort(port)
                .buildAsync());
    node.client
        .connectWith()
        .willPublish(
            Mqtt5Publish.builder()
                .topic("spBv1.0/larkspur/NDEATH/gateway")
                .payload(encoded(new SparkplugBPayloadBuilder().addMetric(birth())))
                .qos(MqttQos.AT_LEAST_ONCE)
                .build())
        .send()
        .get();
    node.client
        .subscribeWith()
        .topicFilter("spBv1.0/larkspur/NCMD/gateway")
        .callback(node::told)
        .send()
        .get();
    return node;
  }

  private static Metric birth() throws SparkplugException {
    return new MetricBuilder("bdSeq", MetricDataType.Int64, 7L).createMetric();
  }

  private static byte[] encoded(SparkplugBPayloadBuilder payload) throws IOException {
    return new SparkplugBPayloadEncoder().getBytes(payload.createPayload(), true);
  }

  private synchronized void told(Mqtt5Publish command) {
    try {
      Metric asked =
          new SparkplugBPayloadDecoder()
              .buildFromByteArray(command.getPayloadAsBytes(), null)
              .getMetrics()
              .get(0);
      if (asked.getName().equals("Node Control/Rebirth") && asked.getValue().equals(true)) {
        births.incrementAndGet();
        seq = 0;
        publish("NBIRTH/gateway", List.of(birth(), born(RAMS)));
        publish("DBIRTH/gateway/cap", List.of(born(PORT), born(STARBOARD)));
      }
    } catch (Exception e) {
      throw new IllegalStateException("a command that Tahu cannot read", e);
    }
  }

  private Metric born(long alias) throws SparkplugException {
    return metric(alias).name(NAMES.get(alias)).createMetric();
  }

  private MetricBuilder metric(long alias) {
    return new MetricBuilder(alias, TYPES.get(alias), values.get(alias)).timestamp(new Date());
  }

  private void publish(String to, List<Metric> metrics) {
    try {
      byte[] payload =
          encoded(
              new SparkplugBPayloadBuilder()
                  .setTimestamp(new Date())
                  .setSeq((long) seq)
                  .addMetrics(metrics));
      seq = (seq + 1) % 256;
      String type = to.substring(0, to.indexOf('/'));
      client
          .publishWith()
          .topic("spBv1.0/larkspur/" + to)
          .qos(type.endsWith("DEATH") ? MqttQos.AT_LEAST_ONCE : MqttQos.AT_MOST_ONCE)
          .payload(payload)
          .send();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String to(long alias) {
    return alias == RAMS ? "NDATA/gateway" : "DDATA/gateway/cap";
  }

  /** How often it was born. */
  int births() {
    return births.get();
  }

  synchronized void says(long alias, Object value) throws SparkplugException {
    values.put(alias, value);
    publish(to(alias), List.of(metric(alias).createMetric()));
  }

  /** The same with the property Quality. */
  synchronized void says(long alias, Object value, int quality) throws SparkplugException {
    values.put(alias, value);
    publish(
        to(alias),
        List.of(
            metric(alias)
                .properties(
                    new PropertySetBuilder()
                        .addProperty("Unit", new PropertyValue<>(PropertyDataType.String, "Cel"))
                        .addProperty(
                            "Quality", new PropertyValue<>(PropertyDataType.Int32, quality))
                        .createPropertySet())
                .createMetric()));
  }

  synchronized void saysNothing(long alias) throws SparkplugException {
    publish(to(alias), List.of(metric(alias).value(null).createMetric()));
  }

  /** A message of it is lost on the way. */
  synchronized void loses() {
    seq = (seq + 1) % 256;
  }

  synchronized void deviceDies() {
    publish("DDEATH/gateway/cap", List.of());
  }

  /** It is cut off, and the broker says what it put down for that. */
  void dies() throws Exception {
    client
        .disconnectWith()
        .reasonCode(Mqtt5DisconnectReasonCode.DISCONNECT_WITH_WILL_MESSAGE)
        .send()
        .get();
  }

  @Override
  public void close() {
    var unused = client.disconnect();
  }
}

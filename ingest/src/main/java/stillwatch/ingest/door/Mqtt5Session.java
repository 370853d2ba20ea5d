package stillwatch.ingest.door;

import com.hivemq.client.mqtt.MqttClientBuilder;
import com.hivemq.client.mqtt.MqttGlobalPublishFilter;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.mqtt5.Mqtt5AsyncClient;
import com.hivemq.client.mqtt.mqtt5.exceptions.Mqtt5SubAckException;
import com.hivemq.client.mqtt.mqtt5.message.connect.Mqtt5Connect;
import com.hivemq.client.mqtt.mqtt5.message.subscribe.Mqtt5Subscription;
import com.hivemq.client.mqtt.mqtt5.message.subscribe.suback.Mqtt5SubAck;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import org.jspecify.annotations.Nullable;

/** One connection by version 5 of the protocol. */
final class Mqtt5Session implements MqttSource.Session {
  private static final int RECEIVE_AT_ONCE = 500;
  private final MqttPlan plan;
  private final Mqtt5AsyncClient client;

  Mqtt5Session(
      MqttPlan plan,
      MqttClientBuilder builder,
      byte @Nullable [] password,
      MqttSource.Taking taking) {
    this.plan = plan;
    var made = builder.useMqttVersion5();
    String user = plan.user();
    if (user != null) {
      var named = made.simpleAuth().username(user);
      made = (password == null ? named : named.password(password)).applySimpleAuth();
    }
    client = made.buildAsync();
    client.publishes( // before it connects: what the broker kept comes at once
        MqttGlobalPublishFilter.ALL,
        m ->
            taking.take(
                m.getTopic().toString(), m.getPayloadAsBytes(), m.isRetain(), m::acknowledge),
        true);
  }

  @Override
  public CompletableFuture<List<Boolean>> open() {
    List<Mqtt5Subscription> wanted =
        plan.topics().stream()
            .map(
                t ->
                    Mqtt5Subscription.builder()
                        .topicFilter(t.filter())
                        .qos(MqttQos.AT_LEAST_ONCE)
                        .build())
            .toList();
    return client
        .connectWith()
        .keepAlive(KEEP_ALIVE_S)
        .cleanStart(!plan.kept())
        .sessionExpiryInterval(plan.kept() ? Mqtt5Connect.NO_SESSION_EXPIRY : 0)
        .restrictions()
        .receiveMaximum(RECEIVE_AT_ONCE)
        .applyRestrictions()
        .send()
        .thenCompose(answer -> client.subscribeWith().addSubscriptions(wanted).send())
        .exceptionally(Mqtt5Session::refusedAll)
        .thenApply(
            answer -> answer.getReasonCodes().stream().map(code -> !code.isError()).toList());
  }

  /** The client takes an answer that allows nothing for a fault. */
  private static Mqtt5SubAck refusedAll(Throwable fault) {
    if (fault.getCause() instanceof Mqtt5SubAckException refused) {
      return refused.getMqttMessage();
    }
    throw new CompletionException(fault);
  }

  @Override
  public void send(String topic, byte[] payload) {
    var unused =
        client.publishWith().topic(topic).qos(MqttQos.AT_MOST_ONCE).payload(payload).send();
  }

  @Override
  public CompletableFuture<Void> leave() {
    return client.disconnect();
  }
}

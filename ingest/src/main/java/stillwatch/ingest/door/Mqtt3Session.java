package stillwatch.ingest.door;

import com.hivemq.client.mqtt.MqttClientBuilder;
import com.hivemq.client.mqtt.MqttGlobalPublishFilter;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.mqtt3.Mqtt3AsyncClient;
import com.hivemq.client.mqtt.mqtt3.exceptions.Mqtt3SubAckException;
import com.hivemq.client.mqtt.mqtt3.message.subscribe.Mqtt3Subscription;
import com.hivemq.client.mqtt.mqtt3.message.subscribe.suback.Mqtt3SubAck;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import org.jspecify.annotations.Nullable;

/** One connection by version 3 of the protocol. */
final class Mqtt3Session implements MqttSource.Session {
  private final MqttPlan plan;
  private final Mqtt3AsyncClient client;

  Mqtt3Session(
      MqttPlan plan,
      MqttClientBuilder builder,
      byte @Nullable [] password,
      MqttSource.Taking taking) {
    this.plan = plan;
    var made = builder.useMqttVersion3();
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
    List<Mqtt3Subscription> wanted =
        plan.topics().stream()
            .map(
                t ->
                    Mqtt3Subscription.builder()
                        .topicFilter(t.filter())
                        .qos(MqttQos.AT_LEAST_ONCE)
                        .build())
            .toList();
    return client
        .connectWith()
        .keepAlive(KEEP_ALIVE_S)
        .cleanSession(!plan.kept())
        .send()
        .thenCompose(answer -> client.subscribeWith().addSubscriptions(wanted).send())
        .exceptionally(Mqtt3Session::refusedAll)
        .thenApply(
            answer -> answer.getReturnCodes().stream().map(code -> !code.isError()).toList());
  }

  /** The client takes an answer that allows nothing for a fault. */
  private static Mqtt3SubAck refusedAll(Throwable fault) {
    if (fault.getCause() instanceof Mqtt3SubAckException refused) {
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

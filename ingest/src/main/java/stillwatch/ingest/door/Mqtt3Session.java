package stillwatch.ingest.door;

import com.hivemq.client.mqtt.MqttClientBuilder;
import com.hivemq.client.mqtt.MqttGlobalPublishFilter;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.mqtt3.Mqtt3AsyncClient;
import com.hivemq.client.mqtt.mqtt3.message.subscribe.Mqtt3Subscription;
import java.util.List;
import java.util.concurrent.CompletableFuture;
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
  public CompletableFuture<Void> open() {
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
        .cleanSession(false)
        .send()
        .thenCompose(answer -> client.subscribeWith().addSubscriptions(wanted).send())
        .thenAccept(
            answer ->
                plan.allowed(
                    answer.getReturnCodes().stream().map(code -> !code.isError()).toList()));
  }

  @Override
  public CompletableFuture<Void> leave() {
    return client.disconnect();
  }
}

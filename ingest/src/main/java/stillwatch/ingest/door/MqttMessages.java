package stillwatch.ingest.door;

import com.hivemq.client.mqtt.datatypes.MqttTopic;
import com.hivemq.client.mqtt.datatypes.MqttTopicFilter;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.function.BiConsumer;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.intake.Refusal.Reason;
import stillwatch.ingest.sparkplug.SparkplugTopic;

/** Makes readings of an MQTT broker's messages, as the plan says. Safe from any thread. */
final class MqttMessages {
  private final Map<MqttTopicFilter, MqttPlan.Topic> topics = new LinkedHashMap<>();
  private final Map<MqttPlan.Topic, SparkplugNode> nodes = new LinkedHashMap<>();
  private final Inlet inlet;

  MqttMessages(List<MqttPlan.Topic> topics, Inlet inlet) {
    topics.forEach(t -> this.topics.putIfAbsent(MqttTopicFilter.of(t.filter()), t));
    topics.stream()
        .filter(t -> t.form().kind() == MessageForm.Kind.SPARKPLUG)
        .forEach(t -> nodes.put(t, new SparkplugNode(t, inlet)));
    this.inlet = inlet;
  }

  /**
   * There is a connection.
   *
   * @param send takes what is to be published, once at most, on a topic
   */
  void connected(BiConsumer<String, byte[]> send) {
    nodes.forEach(
        (topic, node) ->
            node.connected(
                command -> send.accept(SparkplugTopic.commands(topic.filter()), command)));
  }

  /** Which gauges say nothing though their topics are listened to, a sentence each. */
  List<String> lacks() {
    return nodes.values().stream().flatMap(n -> n.lacks().stream()).toList();
  }

  /**
   * Takes a message.
   *
   * @param kept whether the broker kept it from before, for whoever comes
   * @return completes when the broker need not keep it any longer
   */
  CompletableFuture<Void> take(String topic, byte[] payload, boolean kept) {
    MqttPlan.Topic by = planned(topic);
    try {
      if (by == null) {
        throw new UnreadableException(
            Reason.UNKNOWN_GAUGE, "the plan says nothing of the topic " + Messages.brief(topic));
      }
      if (by.form().kind() == MessageForm.Kind.LINES) {
        return inlet.lines(payload);
      }
      SparkplugNode node = nodes.get(by);
      if (node != null) {
        return node.take(topic, payload);
      }
      return inlet.take(reading(by, topic, payload, kept));
    } catch (UnreadableException e) {
      return inlet.refuse(payload, e.refusal());
    }
  }

  private MqttPlan.@Nullable Topic planned(String topic) {
    MqttTopic asked = MqttTopic.of(topic);
    for (Map.Entry<MqttTopicFilter, MqttPlan.Topic> t : topics.entrySet()) {
      if (t.getKey().matches(asked)) {
        return t.getValue();
      }
    }
    return null;
  }

  private Reading reading(MqttPlan.Topic by, String topic, byte[] payload, boolean kept)
      throws UnreadableException {
    String gauge =
        by.gaugeOf(topic)
            .orElseThrow(
                () ->
                    new UnreadableException(
                        Reason.UNKNOWN_GAUGE,
                        "the plan names no gauge for the topic " + Messages.brief(topic)));
    if (kept && by.form().time() == null) {
      throw new UnreadableException(
          Reason.BAD_TIME,
          gauge + ": the broker kept this from before, and it does not say of when it is");
    }
    return Messages.reading(by.form(), gauge, payload, inlet.nowMs());
  }
}

package stillwatch.ingest.door;

import com.hivemq.client.mqtt.datatypes.MqttTopicFilter;
import java.net.URI;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * Readings that an MQTT broker hands on (OASIS MQTT 3.1.1 or 5.0).
 *
 * @param server {@code tcp://host:port} or {@code ssl://host:port}
 * @param version 3 or 5
 * @param client the client identifier, by which the broker knows the session again
 * @param user null without
 * @param password the file that holds it; null without
 * @param certificate the PEM file of the certificate that it shows over TLS, with those above it;
 *     null where it shows none
 * @param key the PEM file of that certificate's key; null without
 * @param topics what is listened to; a message goes to the first whose filter its topic matches
 * @param kept whether the broker keeps the session while nobody is connected
 */
public record MqttPlan(
    URI server,
    int version,
    String client,
    @Nullable String user,
    @Nullable Path password,
    @Nullable Path certificate,
    @Nullable Path key,
    List<Topic> topics,
    boolean kept)
    implements SourcePlan.Way {
  @Override
  public List<String> gauges() {
    return topics.stream()
        .flatMap(t -> t.gauge() == null ? t.gauges().values().stream() : Stream.of(t.gauge()))
        .distinct()
        .toList();
  }

  /** Under another identifier: the broker keeps what it has for the watch. */
  @Override
  public MqttPlan looking() {
    return new MqttPlan(
        server, version, client + "-look", user, password, certificate, key, topics, false);
  }

  /** Why this is no topic filter; empty when it is one. */
  public static Optional<String> faultOf(String filter) {
    try {
      var unused = MqttTopicFilter.of(filter);
      return Optional.empty();
    } catch (IllegalArgumentException e) {
      return Optional.of(
          "'"
              + filter
              + "' is no topic filter: + must fill a whole level, # the last; nothing else is special");
    }
  }

  /** What the broker does not allow, a sentence a topic, by its answers in the topics' order. */
  List<String> notAllowed(List<Boolean> answers) {
    return IntStream.range(0, topics.size())
        .filter(i -> !answers.get(i))
        .mapToObj(i -> notAllowed(topics.get(i)))
        .toList();
  }

  private String notAllowed(Topic t) {
    List<String> whose = t.gauge() == null ? List.copyOf(t.gauges().values()) : List.of(t.gauge());
    return "the broker "
        + server
        + " does not allow the topic "
        + t.filter()
        + (whose.isEmpty() ? "" : " of " + String.join(", ", whose))
        + "; have it allow that, or correct the plan";
  }

  /**
   * Topics that are read alike.
   *
   * @param filter may hold the wildcards + and #
   * @param gauge whose readings these are; null where the topic says it
   * @param gauges gauge by what stands in the topic for the filter's first wildcard
   * @param form how a message says its reading
   */
  public record Topic(
      String filter, @Nullable String gauge, Map<String, String> gauges, MessageForm form) {
    /** Whose reading a message on this topic is; empty when the plan does not say. */
    Optional<String> gaugeOf(String topic) {
      if (gauge != null) {
        return Optional.of(gauge);
      }
      String[] asked = filter.split("/", -1);
      String[] levels = topic.split("/", -1);
      for (int i = 0; i < asked.length; i++) {
        if (asked[i].equals("#")) {
          String rest =
              String.join("/", List.of(levels).subList(Math.min(i, levels.length), levels.length));
          return Optional.ofNullable(gauges.get(rest));
        }
        if (asked[i].equals("+")) {
          return Optional.ofNullable(gauges.get(levels[i]));
        }
      }
      return Optional.empty();
    }
  }
}

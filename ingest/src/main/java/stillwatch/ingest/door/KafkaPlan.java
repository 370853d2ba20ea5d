package stillwatch.ingest.door;

import com.fasterxml.jackson.core.JsonPointer;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Readings that come on a topic of a Kafka broker that is not the watch's own.
 *
 * @param servers host:port, several separated by commas
 * @param clientProperties the file of Kafka client properties; null without
 * @param group the name under which that broker keeps how far the topic was read
 * @param from from which time on it is read at first; null for what comes from then on
 * @param gauge whose readings these are; null where messages say it
 * @param byName gauge by the name that a message says
 * @param namedBy where that name stands in a JSON document; null where it is the message's key
 * @param form how a message says its reading
 */
public record KafkaPlan(
    String servers,
    @Nullable Path clientProperties,
    String topic,
    String group,
    @Nullable Instant from,
    @Nullable String gauge,
    Map<String, String> byName,
    @Nullable JsonPointer namedBy,
    MessageForm form)
    implements SourcePlan.Way {
  @Override
  public List<String> gauges() {
    return gauge == null ? byName.values().stream().distinct().toList() : List.of(gauge);
  }

  /** In another group: the broker keeps how far the watch has read. */
  @Override
  public KafkaPlan looking() {
    return new KafkaPlan(
        servers, clientProperties, topic, group + "-look", null, gauge, byName, namedBy, form);
  }
}

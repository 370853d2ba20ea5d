package stillwatch.ingest.bus;

import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * How to reach the broker.
 *
 * @param bootstrap host:port, several separated by commas
 * @param client Kafka client properties passed through untouched, for example TLS and SASL
 * @param member under this name its readers return to their groups at once after a kill, instead of
 *     waiting until the broker has given them up; for one process alone. Null where others share
 *     the groups
 */
public record BusSettings(String bootstrap, Map<String, String> client, @Nullable String member) {
  /** The way to a broker that others may share. */
  public BusSettings(String bootstrap, Map<String, String> client) {
    this(bootstrap, client, null);
  }
}

package stillwatch.ingest.bus;

import java.io.IOException;
import java.io.Reader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Properties;
import java.util.TreeMap;
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

  /**
   * The client properties that a file holds; none where there is no file.
   *
   * @throws IOException when it cannot be read
   * @throws IllegalArgumentException when it is no properties file
   */
  public static Map<String, String> client(@Nullable Path file) throws IOException {
    Map<String, String> all = new TreeMap<>();
    if (file != null) {
      Properties read = new Properties();
      try (Reader in = Files.newBufferedReader(file)) {
        read.load(in);
      }
      read.stringPropertyNames().forEach(name -> all.put(name, read.getProperty(name)));
    }
    return all;
  }
}

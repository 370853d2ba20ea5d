package stillwatch.ingest.bus;

import java.util.Map;

/**
 * One record of a topic, without the broker's types.
 *
 * @param partition the partition it was read from; -1 before it is written
 * @param offset its place in the partition; -1 before it is written
 * @param key the well id
 * @param value the encoded body
 * @param headers text headers, for example {@code format}
 */
public record Message(
    int partition, long offset, String key, byte[] value, Map<String, String> headers) {
  /** A message still to be written. */
  public static Message of(String key, byte[] value, Map<String, String> headers) {
    return new Message(-1, -1, key, value, headers);
  }
}

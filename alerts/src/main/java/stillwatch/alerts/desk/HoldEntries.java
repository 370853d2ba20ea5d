package stillwatch.alerts.desk;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import stillwatch.alerts.journal.Entry;

/** What the record says of points that are suppressed. */
final class HoldEntries {
  /** A point is suppressed from now on. */
  static final String HELD = "held-back";

  /** A point is no longer suppressed. */
  static final String RELEASED = "released";

  private static final ObjectMapper JSON = new ObjectMapper();

  private HoldEntries() {}

  static String body(Hold hold) {
    ObjectNode n = JSON.createObjectNode().put("how", hold.how().wire());
    Long until = hold.untilMs();
    if (until != null) {
      n.put("until_ms", until);
    }
    return n.put("reason", hold.reason()).toString();
  }

  /**
   * The hold an entry began.
   *
   * @throws IllegalArgumentException when it began none
   */
  static Hold hold(Entry entry) {
    try {
      JsonNode n = JSON.readTree(entry.body());
      return new Hold(
          entry.subject(),
          Hold.How.of(n.path("how").asText())
              .orElseThrow(
                  () ->
                      new IllegalArgumentException("entry " + entry.seq() + " holds nothing back")),
          n.has("until_ms") ? Long.valueOf(n.path("until_ms").asLong()) : null,
          entry.by(),
          n.path("reason").asText(),
          entry.writtenMs());
    } catch (IOException e) {
      throw new IllegalArgumentException("entry " + entry.seq() + " is not readable as JSON", e);
    }
  }
}

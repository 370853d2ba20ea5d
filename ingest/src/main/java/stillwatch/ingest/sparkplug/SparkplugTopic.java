package stillwatch.ingest.sparkplug;

import java.util.Optional;

/**
 * Where a message of an edge node or to it goes (Eclipse Sparkplug 3.0, 4.1).
 *
 * @param type for example {@code NDATA}
 * @param device empty where it is about the node itself
 */
public record SparkplugTopic(String group, String type, String node, String device) {
  private static final String NAMESPACE = "spBv1.0";

  /** Reads one; empty where it is none of these. */
  public static Optional<SparkplugTopic> of(String topic) {
    String[] levels = topic.split("/", 6);
    return levels.length < 4 || levels.length > 5 || !levels[0].equals(NAMESPACE)
        ? Optional.empty()
        : Optional.of(
            new SparkplugTopic(
                levels[1], levels[2], levels[3], levels.length == 5 ? levels[4] : ""));
  }

  /** Why this filter does not stand for all messages of one edge node; empty when it does. */
  public static Optional<String> faultOf(String filter) {
    return filter.matches(NAMESPACE + "/[^/+#]+/\\+/[^/+#]+/#")
        ? Optional.empty()
        : Optional.of(
            "'"
                + filter
                + "' does not stand for an edge node; write it like spBv1.0/GROUP/+/NODE/#");
  }

  /** Where commands to the node of such a filter go. */
  public static String commands(String filter) {
    return filter.replace("/+/", "/NCMD/").replace("/#", "");
  }
}

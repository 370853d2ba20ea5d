package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.List;
import stillwatch.ingest.intake.SourceHealth;

/** How the sources of readings are, as JSON. */
final class SourcesJson {
  private SourcesJson() {}

  /** Puts them under {@code sources}, where there are any. */
  static void put(List<SourceHealth.State> all, ObjectNode into) {
    if (all.isEmpty()) {
      return;
    }
    ArrayNode list = into.putArray("sources");
    for (SourceHealth.State s : all) {
      ObjectNode n = list.addObject().put("name", s.name()).put("connected", s.connected());
      n.put("since", Instant.ofEpochMilli(s.sinceMs()).toString());
      if (s.lastMs() > 0) {
        n.put("last", Instant.ofEpochMilli(s.lastMs()).toString());
      }
      n.put("taken", s.taken()).put("again", s.again()).put("reconnects", s.reconnects());
      ObjectNode refused = n.putObject("refused");
      s.refused().forEach(refused::put);
      if (!s.fault().isEmpty()) {
        n.put("fault", s.fault());
      }
    }
  }
}

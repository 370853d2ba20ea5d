package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.door.SqlPlan;
import stillwatch.ingest.unit.Dimension;

/** Makes a source of a plan's {@code sources: sql}. */
final class SqlBinder {
  private static final double ASKED_EVERY_S = 2;
  private static final double LONGEST_LOOK_BACK_S = 86_400;

  private final YamlTree tree;
  private final LayoutBinder layouts;

  SqlBinder(YamlTree tree, LayoutBinder layouts) {
    this.tree = tree;
    this.layouts = layouts;
  }

  SourcePlan.Way bind(JsonNode s, String name, String at) {
    String source = "source '" + name + "': ";
    String url = s.path("url").asText();
    if (url.matches(".*\\bpassword=.*")) {
      tree.fault(at + "/url", source + "a password stands in a file; name that as password-file");
    }
    String query = s.path("query").asText();
    SqlPlan.faultOf(query).ifPresent(why -> tree.fault(at + "/query", source + why));
    PlanQuantities quantities = new PlanQuantities(tree);
    double every = quantities.of(s, at, "every", Dimension.DURATION, ASKED_EVERY_S);
    if (every < 0.1) {
      tree.fault(at + "/every", source + "ask at most every 0.1 s");
    }
    double lookBack = quantities.of(s, at, "look-back", Dimension.DURATION, 0);
    if (lookBack < 0 || lookBack > LONGEST_LOOK_BACK_S) {
      tree.fault(at + "/look-back", source + "look back at most 24 h");
    }
    return new SqlPlan(
        url,
        s.hasNonNull("user") ? s.path("user").asText() : null,
        s.hasNonNull("password-file") ? Path.of(s.path("password-file").asText()) : null,
        query,
        time(tree, s.path("from").asText(), source, at + "/from"),
        Duration.ofMillis(Math.round(every * 1000)),
        Duration.ofMillis(Math.round(lookBack * 1000)),
        layouts.bind(s.path("layout"), at + "/layout"));
  }

  /** A moment that a source names. */
  static Instant time(YamlTree tree, String text, String source, String at) {
    try {
      return Instant.parse(text);
    } catch (DateTimeException e) {
      tree.fault(at, source + "'" + text + "' is no time; write it like \"2026-03-08T06:00:00Z\"");
      return Instant.EPOCH;
    }
  }
}

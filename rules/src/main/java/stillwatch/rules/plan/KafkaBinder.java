package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.util.Map;
import stillwatch.ingest.door.KafkaPlan;
import stillwatch.ingest.door.MessageForm;
import stillwatch.ingest.door.SourcePlan;

/** Makes a source of a plan's {@code sources: kafka}. */
final class KafkaBinder {
  private final YamlTree tree;
  private final SourcesBinder sources;

  KafkaBinder(YamlTree tree, SourcesBinder sources) {
    this.tree = tree;
    this.sources = sources;
  }

  SourcePlan.Way bind(JsonNode s, String name, String at) {
    String source = "source '" + name + "': ";
    String gauge = s.hasNonNull("gauge") ? s.path("gauge").asText() : null;
    Map<String, String> byName = sources.named(s, name, at);
    MessageForm form = sources.form(s, "source '" + name + "'", at);
    if (form.kind() != MessageForm.Kind.LINES && (gauge == null) == byName.isEmpty()) {
      tree.fault(
          at, source + "say either 'gauge', or 'gauges' by the key or what 'named-by' points to");
    }
    if (s.has("named-by") && (form.kind() != MessageForm.Kind.JSON || byName.isEmpty())) {
      tree.fault(at + "/named-by", source + "'named-by' wants form json and 'gauges'");
    }
    String start = s.path("start").asText("newest");
    return new KafkaPlan(
        s.path("servers").asText(),
        s.hasNonNull("client-properties") ? Path.of(s.path("client-properties").asText()) : null,
        s.path("topic").asText(),
        s.path("group").asText("stillwatch-" + tree.root().path("well").asText() + "-" + name),
        start.equals("newest") ? null : SqlBinder.time(tree, start, source, at + "/start"),
        gauge,
        byName,
        s.has("named-by") ? sources.pointer(s, "named-by", at) : null,
        form);
  }
}

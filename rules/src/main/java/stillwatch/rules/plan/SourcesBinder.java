package stillwatch.rules.plan;

import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.databind.JsonNode;
import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.door.FilesPlan;
import stillwatch.ingest.door.MessageForm;
import stillwatch.ingest.door.MqttPlan;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.recording.RecordingLayout;
import stillwatch.ingest.sparkplug.SparkplugTopic;
import stillwatch.ingest.unit.Dimension;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.UnitException;
import stillwatch.ingest.unit.Units;

/** Makes the sources of a plan's {@code sources}. */
final class SourcesBinder {
  private static final double LOOKED_AT_EVERY_S = 1;

  private final YamlTree tree;
  private final LayoutBinder layouts;
  private final RecordingLayout recordings;
  private final Map<String, GaugePlan> gauges = new LinkedHashMap<>();
  private final Set<String> names = new HashSet<>();

  /**
   * Of a plan.
   *
   * @param recordings how files are laid out where a source does not say
   */
  SourcesBinder(
      YamlTree tree, List<GaugePlan> gauges, LayoutBinder layouts, RecordingLayout recordings) {
    this.tree = tree;
    this.layouts = layouts;
    this.recordings = recordings;
    gauges.forEach(g -> this.gauges.put(g.id(), g));
  }

  private interface Making {
    SourcePlan.@Nullable Way of(JsonNode node, String name, String at);
  }

  List<SourcePlan> bind() {
    List<SourcePlan> all = new ArrayList<>();
    list(all, "mqtt", this::mqtt);
    list(all, "files", this::files);
    list(all, "sql", new SqlBinder(tree, layouts)::bind);
    list(all, "kafka", new KafkaBinder(tree, this)::bind);
    list(all, "lines", new LinesBinder(tree, this)::bind);
    BroughtSources brought = new BroughtSources(tree, this::gauge);
    for (String kind : BroughtSources.KEYS) {
      list(all, kind, (node, name, at) -> brought.way(kind, node, name, at));
    }
    return List.copyOf(all);
  }

  private void list(List<SourcePlan> into, String kind, Making making) {
    JsonNode list = tree.root().path("sources").path(kind);
    for (int i = 0; i < list.size(); i++) {
      String at = "/sources/" + kind + "/" + i;
      String name = list.get(i).path("name").asText();
      if (!names.add(name)) {
        tree.fault(at + "/name", "source '" + name + "' stands twice; give one another name");
      }
      SourcePlan.Way way = making.of(list.get(i), name, at);
      if (way != null) {
        into.add(new SourcePlan(name, way));
      }
    }
  }

  private static @Nullable String text(JsonNode n, String key) {
    return n.hasNonNull(key) ? n.path(key).asText() : null;
  }

  private static @Nullable Path path(@Nullable String file) {
    return file == null ? null : Path.of(file);
  }

  private @Nullable URI server(JsonNode s, String at) {
    try {
      URI server = URI.create(s.path("server").asText());
      if (server.getHost() != null) {
        return server;
      }
    } catch (IllegalArgumentException e) {
      // told below
    }
    tree.fault(
        at + "/server",
        "'"
            + s.path("server").asText()
            + "' is no address; write it like tcp://gateway.example:1883");
    return null;
  }

  private SourcePlan.Way files(JsonNode s, String name, String at) {
    String names = s.path("names").asText("*.csv*");
    FilesPlan.faultOf(names).ifPresent(why -> tree.fault(at + "/names", why));
    double every =
        new PlanQuantities(tree).of(s, at, "every", Dimension.DURATION, LOOKED_AT_EVERY_S);
    if (every < 0.1) {
      tree.fault(at + "/every", "source '" + name + "': look at most every 0.1 s");
    }
    RecordingLayout layout =
        s.has("layout") ? layouts.bind(s.path("layout"), at + "/layout") : recordings;
    return new FilesPlan(
        Path.of(s.path("folder").asText()),
        names,
        Duration.ofMillis(Math.round(every * 1000)),
        layout);
  }

  private SourcePlan.@Nullable Way mqtt(JsonNode s, String name, String at) {
    String user = text(s, "user");
    String password = text(s, "password-file");
    if (password != null && user == null) {
      tree.faultAtKey(at + "/password-file", "a password wants a user; say 'user' too");
    }
    String certificate = text(s, "certificate-file");
    String key = text(s, "key-file");
    if ((certificate == null) != (key == null)) {
      tree.fault(at, "source '" + name + "': certificate-file and key-file go together; say both");
    }
    List<MqttPlan.Topic> topics = new ArrayList<>();
    for (int i = 0; i < s.path("topics").size(); i++) {
      topics.add(topic(s.path("topics").get(i), name, at + "/topics/" + i));
    }
    URI server = server(s, at);
    return server == null
        ? null
        : new MqttPlan(
            server,
            s.path("version").asInt(3),
            s.path("client").asText("stillwatch-" + tree.root().path("well").asText() + "-" + name),
            user,
            path(password),
            path(certificate),
            path(key),
            List.copyOf(topics),
            true);
  }

  private MqttPlan.Topic topic(JsonNode t, String source, String at) {
    String filter = t.path("topic").asText();
    MqttPlan.faultOf(filter).ifPresent(why -> tree.fault(at + "/topic", why));
    boolean lines = t.path("form").asText().equals("lines");
    if (t.path("form").asText().equals("sparkplug")) {
      sparkplug(t, filter, source, at);
    }
    String gauge = text(t, "gauge");
    Map<String, String> byTopic = named(t, source, at);
    if (!lines && (gauge == null) == byTopic.isEmpty()) {
      tree.fault(
          at,
          "source '"
              + source
              + "', topic "
              + filter
              + ": say either 'gauge', or 'gauges' by what stands for its wildcard");
    }
    if (!byTopic.isEmpty() && !filter.contains("+") && !filter.contains("#")) {
      tree.fault(at + "/topic", "'gauges' wants a wildcard, + or #, in the topic " + filter);
    }
    return new MqttPlan.Topic(
        filter, gauge, byTopic, form(t, "source '" + source + "', topic " + filter, at));
  }

  private void sparkplug(JsonNode t, String filter, String source, String at) {
    SparkplugTopic.faultOf(filter).ifPresent(why -> tree.fault(at + "/topic", why));
    for (String key : List.of("gauge", "time", "quality")) {
      if (t.has(key)) {
        tree.faultAtKey(
            at + "/" + key,
            "source '%s': with form sparkplug each message says that itself; take '%s' out, and name metrics under 'gauges'"
                .formatted(source, key));
      }
    }
  }

  /** The gauges under 'gauges' by name; they and the one under 'gauge' must be in the plan. */
  Map<String, String> named(JsonNode t, String source, String at) {
    String unit = t.path("unit").asText("");
    Map<String, String> byName = new LinkedHashMap<>();
    for (Map.Entry<String, JsonNode> e : t.path("gauges").properties()) {
      byName.put(e.getKey(), e.getValue().asText());
      var unused = gauge(e.getValue().asText(), unit, source, at + "/gauges/" + e.getKey());
    }
    if (t.hasNonNull("gauge")) {
      var unused = gauge(t.path("gauge").asText(), unit, source, at + "/gauge");
    }
    return byName;
  }

  /** How messages say their readings. */
  MessageForm form(JsonNode t, String where, String at) {
    String form = t.path("form").asText("number");
    if (form.equals("json") != t.has("value")) {
      tree.fault(at, where + ": form json and 'value' go together");
    }
    return new MessageForm(
        MessageForm.Kind.valueOf(
            Set.of("json", "lines", "sparkplug").contains(form)
                ? form.toUpperCase(Locale.ROOT)
                : "NUMBER"),
        pointer(t, "value", at),
        t.has("time") ? pointer(t, "time", at) : null,
        t.has("quality") ? pointer(t, "quality", at) : null,
        t.path("unit").asText(""));
  }

  JsonPointer pointer(JsonNode t, String key, String at) {
    try {
      return JsonPointer.compile(t.path(key).asText(""));
    } catch (IllegalArgumentException e) {
      tree.fault(
          at + "/" + key,
          "'" + t.path(key).asText() + "' is no JSON pointer; write it like /pressure/value");
      return JsonPointer.empty();
    }
  }

  /**
   * A gauge that a source names must be in the plan, and of a kind that the unit fits; what it
   * measures then.
   */
  Optional<Kind> gauge(String id, String unit, String source, String at) {
    GaugePlan gauge = gauges.get(id);
    if (gauge == null) {
      tree.fault(
          at,
          "source '"
              + source
              + "': there is no gauge '"
              + id
              + "' in this plan"
              + Nearest.hint(id, List.copyOf(gauges.keySet())));
      return Optional.empty();
    }
    try {
      var unused = Units.of(gauge.kind(), unit.isEmpty() ? gauge.unit() : unit);
      return Optional.of(gauge.kind());
    } catch (UnitException e) {
      tree.fault(at, "source '" + source + "', gauge '" + id + "': " + e.getMessage());
      return Optional.empty();
    }
  }
}

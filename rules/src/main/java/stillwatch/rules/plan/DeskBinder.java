package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import stillwatch.ingest.unit.Dimension;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.RuleEntry;

/** Makes what a plan's {@code desk} says of the handling of alarms. */
final class DeskBinder {
  private static final String AT = "/desk";

  private final YamlTree tree;
  private final PlanQuantities quantities;
  private final List<String> rules;
  private final JsonNode desk;

  DeskBinder(YamlTree tree, Catalogue catalogue) {
    this.tree = tree;
    quantities = new PlanQuantities(tree);
    rules = catalogue.rules().stream().map(RuleEntry::id).toList();
    desk = tree.root().path("desk");
  }

  DeskPlan bind() {
    DeskPlan usual = DeskPlan.USUAL;
    JsonNode chatter = desk.path("chatter");
    return new DeskPlan(
        duration(desk, AT, "shelve-at-most", usual.shelveAtMost()),
        desk.has("re-alarm") ? duration(desk, AT, "re-alarm", Duration.ofHours(8)) : null,
        latching(),
        suppressed(),
        chatter.path("times").asInt(usual.chatterTimes()),
        duration(chatter, AT + "/chatter", "within", usual.chatterWithin()));
  }

  private Duration duration(JsonNode parent, String at, String key, Duration otherwise) {
    double s = quantities.of(parent, at, key, Dimension.DURATION, otherwise.toMillis() / 1000.0);
    if (s <= 0) {
      tree.fault(at + "/" + key, "must be longer than zero");
    }
    return Duration.ofMillis(Math.round(s * 1000));
  }

  private Set<String> latching() {
    Set<String> latching = new LinkedHashSet<>();
    JsonNode list = desk.path("latch");
    for (int i = 0; i < list.size(); i++) {
      latching.add(rule(list.get(i), AT + "/latch/" + i));
    }
    return Set.copyOf(latching);
  }

  private Map<String, List<String>> suppressed() {
    List<String> phases = new ArrayList<>();
    tree.root().path("test").path("phases").forEach(p -> phases.add(p.asText()));
    Map<String, List<String>> suppressed = new LinkedHashMap<>();
    JsonNode list = desk.path("suppress");
    for (int i = 0; i < list.size(); i++) {
      String at = AT + "/suppress/" + i;
      List<String> in = phases(list.get(i).path("in"), at + "/in", phases);
      suppressed.put(rule(list.get(i).path("rule"), at + "/rule"), in);
    }
    return suppressed;
  }

  private List<String> phases(JsonNode list, String at, List<String> known) {
    List<String> in = new ArrayList<>();
    for (JsonNode phase : list) {
      String name = phase.asText();
      if (!known.contains(name)) {
        tree.fault(at, "the test has no phase '" + name + "'" + Nearest.hint(name, known));
      }
      in.add(name);
    }
    return List.copyOf(in);
  }

  private String rule(JsonNode node, String at) {
    String id = node.asText();
    if (!rules.contains(id)) {
      tree.fault(at, "there is no rule '" + id + "'" + Nearest.hint(id, rules));
    }
    return id;
  }
}

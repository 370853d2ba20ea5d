package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** Makes what a plan says must be so before the first step. */
final class ReadinessBinder {
  private static final String AT = "/readiness";

  private final YamlTree tree;

  ReadinessBinder(YamlTree tree) {
    this.tree = tree;
  }

  List<Condition> bind(TestPlan test) {
    JsonNode list = tree.root().path("readiness");
    List<Condition> conditions = new ArrayList<>();
    Set<String> names = new HashSet<>();
    for (int i = 0; i < list.size(); i++) {
      String at = AT + "/" + i;
      JsonNode c = list.path(i);
      String name = c.path("name").asText();
      if (!names.add(name)) {
        tree.fault(at + "/name", "condition '" + name + "' stands twice; give one another name");
      }
      if (name.contains(":")) {
        tree.fault(at + "/name", "a name ends at a colon when it is ticked; write it without ':'");
      }
      Condition.KnownBy knownBy = knownBy(c.path("known-by").asText());
      if (knownBy == Condition.KnownBy.PASS) {
        planned(c, at, test);
      } else if (c.has("means")) {
        tree.faultAtKey(at + "/means", "only a condition known by 'pass' has means; leave it out");
      }
      conditions.add(
          new Condition(
              name,
              c.path("condition").asText(),
              c.path("owner").asText(),
              knownBy,
              c.path("means").asText("")));
    }
    return List.copyOf(conditions);
  }

  private void planned(JsonNode c, String at, TestPlan test) {
    List<String> planned = test.passes().stream().map(TestPlan.Pass::means).toList();
    String means = c.path("means").asText("");
    if (means.isEmpty()) {
      tree.fault(at, "a condition known by 'pass' needs 'means', like " + example(planned));
    } else if (!planned.contains(means)) {
      tree.fault(
          at + "/means",
          "no pass by '"
              + means
              + "' is planned"
              + Nearest.hint(means, planned)
              + "; name the means of one under 'test: passes'");
    }
  }

  private static String example(List<String> planned) {
    return planned.isEmpty() ? "camera" : String.join(" or ", planned);
  }

  /** What the schema has refused already counts as a tick. */
  private static Condition.KnownBy knownBy(String wire) {
    return Arrays.stream(Condition.KnownBy.values())
        .filter(k -> k.wire().equals(wire))
        .findFirst()
        .orElse(Condition.KnownBy.TICK);
  }
}

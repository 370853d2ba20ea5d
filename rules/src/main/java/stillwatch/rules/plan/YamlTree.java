package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.StringReader;
import java.math.BigDecimal;
import java.util.Collections;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.error.Mark;
import org.yaml.snakeyaml.error.MarkedYAMLException;
import org.yaml.snakeyaml.error.YAMLException;
import org.yaml.snakeyaml.nodes.MappingNode;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.NodeTuple;
import org.yaml.snakeyaml.nodes.ScalarNode;
import org.yaml.snakeyaml.nodes.SequenceNode;
import org.yaml.snakeyaml.nodes.Tag;
import org.yaml.snakeyaml.reader.ReaderException;
import stillwatch.ingest.entrance.Texts;

/** A YAML text as a tree, with the place of every key and value by JSON pointer. */
final class YamlTree {
  private final JsonNode root;
  private final Map<String, Mark> values = new HashMap<>();
  private final Map<String, Mark> keys = new HashMap<>();
  private final List<PlanFault> faults;

  /** The nodes that the one being read stands in. */
  private final Set<Node> within = Collections.newSetFromMap(new IdentityHashMap<>());

  YamlTree(String text, List<PlanFault> faults) {
    this.faults = faults;
    root = read(text);
  }

  private JsonNode read(String text) {
    try {
      Node node = new Yaml(new LoaderOptions()).compose(new StringReader(text));
      if (node == null) {
        faults.add(
            new PlanFault(1, 1, "the plan is empty; start with 'plan: 1' (see docs/plan.md)"));
        return JsonNodeFactory.instance.missingNode();
      }
      return convert(node, "");
    } catch (MarkedYAMLException e) {
      Mark mark = e.getProblemMark();
      faults.add(
          new PlanFault(
              mark == null ? 1 : mark.getLine() + 1,
              mark == null ? 1 : mark.getColumn() + 1,
              "not readable as YAML: " + e.getProblem() + "; check indentation and quotes here"));
      return JsonNodeFactory.instance.missingNode();
    } catch (ReaderException e) {
      String before = text.substring(0, text.offsetByCodePoints(0, e.getPosition()));
      faults.add(
          new PlanFault(
              1 + (int) before.chars().filter(c -> c == '\n').count(),
              before.length() - before.lastIndexOf('\n'),
              String.format(
                  "the character U+%04X cannot stand in YAML; take it out", e.getCodePoint())));
      return JsonNodeFactory.instance.missingNode();
    } catch (YAMLException e) { // too deep, or too many aliases
      faults.add(
          new PlanFault(1, 1, "not readable as YAML: " + e.getMessage() + "; write it simpler"));
      return JsonNodeFactory.instance.missingNode();
    }
  }

  private JsonNode convert(Node node, String pointer) {
    values.put(pointer, node.getStartMark());
    if (!within.add(node)) {
      add(node.getStartMark(), "an alias names what it stands in itself; write out what is meant");
      return JsonNodeFactory.instance.nullNode();
    }
    JsonNode converted = converted(node, pointer);
    within.remove(node);
    return converted;
  }

  private JsonNode converted(Node node, String pointer) {
    if (node instanceof MappingNode mapping) {
      return object(mapping, pointer);
    }
    if (node instanceof SequenceNode sequence) {
      ArrayNode array = JsonNodeFactory.instance.arrayNode();
      for (int i = 0; i < sequence.getValue().size(); i++) {
        array.add(convert(sequence.getValue().get(i), pointer + "/" + i));
      }
      return array;
    }
    ScalarNode scalar = (ScalarNode) node;
    if (!Texts.sound(scalar.getValue())) {
      add(
          node.getStartMark(),
          "the text holds half of a surrogate pair or the character NUL; take it out");
    }
    return scalar(scalar);
  }

  private ObjectNode object(MappingNode mapping, String pointer) {
    ObjectNode object = JsonNodeFactory.instance.objectNode();
    for (NodeTuple tuple : mapping.getValue()) {
      Node name = tuple.getKeyNode();
      String key = name instanceof ScalarNode s ? s.getValue() : name.toString();
      String child = pointer + "/" + key.replace("~", "~0").replace("/", "~1");
      Mark mark = name.getStartMark();
      if (object.has(key)) {
        String twice = "'" + key + "' stands twice; keep one";
        faults.add(new PlanFault(mark.getLine() + 1, mark.getColumn() + 1, twice));
      }
      keys.put(child, mark);
      object.set(key, convert(tuple.getValueNode(), child));
    }
    return object;
  }

  private static JsonNode scalar(ScalarNode node) {
    String text = node.getValue();
    if (node.getTag().equals(Tag.NULL)) {
      return JsonNodeFactory.instance.nullNode();
    }
    if (node.getTag().equals(Tag.BOOL) && (text.equals("true") || text.equals("false"))) {
      return JsonNodeFactory.instance.booleanNode(text.equals("true"));
    }
    if (node.getTag().equals(Tag.INT) || node.getTag().equals(Tag.FLOAT)) {
      try {
        BigDecimal number = new BigDecimal(text);
        return number.scale() <= 0 && number.abs().longValue() < Integer.MAX_VALUE
            ? JsonNodeFactory.instance.numberNode(number.intValue())
            : JsonNodeFactory.instance.numberNode(number);
      } catch (NumberFormatException e) {
        return JsonNodeFactory.instance.textNode(
            text); // hexadecimal, sexagesimal: no number a plan means
      }
    }
    return JsonNodeFactory.instance.textNode(text);
  }

  /** Whether no mistake has been found. */
  boolean sound() {
    return faults.isEmpty();
  }

  JsonNode root() {
    return root;
  }

  /** A mistake at the value with this pointer. */
  void fault(String pointer, String message) {
    add(values.get(pointer), message);
  }

  /** A mistake at the key with this pointer. */
  void faultAtKey(String pointer, String message) {
    Mark mark = keys.get(pointer);
    add(mark == null ? values.get(pointer) : mark, message);
  }

  private void add(@Nullable Mark mark, String message) {
    faults.add(
        new PlanFault(
            mark == null ? 1 : mark.getLine() + 1,
            mark == null ? 1 : mark.getColumn() + 1,
            message));
  }
}

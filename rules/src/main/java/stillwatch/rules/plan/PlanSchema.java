package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.networknt.schema.Error;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import stillwatch.ingest.door.SourceKind;

/** The shipped JSON Schema, and its verdicts in plain words. */
final class PlanSchema {
  private final Schema schema;

  PlanSchema() {
    try (InputStream in = PlanSchema.class.getResourceAsStream("/stillwatch/plan.schema.json")) {
      if (in == null) {
        throw new IllegalStateException(
            "plan.schema.json is missing from the program; build it again");
      }
      JsonNode shipped = new ObjectMapper().readTree(in);
      SourceKind.all().forEach(kind -> bring(shipped, kind));
      schema =
          SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12).getSchema(shipped);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read plan.schema.json", e);
    }
  }

  /** What another artifact says of its sources; each also has a name. */
  private static void bring(JsonNode shipped, SourceKind kind) {
    ObjectNode source = kind.schema().deepCopy();
    source.withObjectProperty("properties").putObject("name").put("$ref", "#/$defs/route-name");
    source.withArrayProperty("required").add("name");
    ((ObjectNode) shipped.at("/properties/sources/properties/" + kind.key())).set("items", source);
  }

  void check(YamlTree tree) {
    for (Error e : schema.validate(tree.root())) {
      String pointer = pointer(e);
      String property = e.getProperty() == null ? "" : e.getProperty();
      switch (e.getKeyword()) {
        case "additionalProperties" ->
            tree.faultAtKey(
                pointer + "/" + property.replace("~", "~0").replace("/", "~1"),
                "unknown key '" + property + "'" + Nearest.hint(property, known(e)));
        case "required" -> tree.faultAtKey(pointer, "the key '" + property + "' is missing here");
        case "type" -> tree.fault(pointer, "must be " + article(e.getSchemaNode()) + ", is not");
        case "enum" ->
            tree.fault(
                pointer,
                "'"
                    + e.getInstanceNode().asText()
                    + "' is not one of "
                    + list(e.getSchemaNode())
                    + Nearest.hint(e.getInstanceNode().asText(), texts(e.getSchemaNode())));
        case "const" -> tree.fault(pointer, "must be " + e.getSchemaNode().asText());
        case "pattern" ->
            tree.fault(
                pointer,
                "'"
                    + e.getInstanceNode().asText()
                    + "' must look like "
                    + e.getSchemaNode().asText());
        case "oneOf" ->
            tree.fault(pointer, "must be a column's header, or 'column' with 'unit' and 'quality'");
        default -> {
          if (!String.valueOf(e.getEvaluationPath()).contains("oneOf")) {
            tree.fault(pointer, e.getMessage());
          }
        }
      }
    }
  }

  private static String pointer(Error e) {
    StringBuilder s = new StringBuilder();
    for (int i = 0; i < e.getInstanceLocation().getNameCount(); i++) {
      s.append('/')
          .append(
              String.valueOf(e.getInstanceLocation().getElement(i))
                  .replace("~", "~0")
                  .replace("/", "~1"));
    }
    return s.toString();
  }

  private List<String> known(Error e) {
    JsonNode at = schema.getSchemaNode();
    for (int i = 0; i < e.getInstanceLocation().getNameCount(); i++) {
      Object name = e.getInstanceLocation().getElement(i);
      at =
          name instanceof Integer
              ? at.path("items")
              : at.path("properties").path(String.valueOf(name));
    }
    List<String> names = new ArrayList<>();
    at.path("properties").fieldNames().forEachRemaining(names::add);
    return names;
  }

  private static String article(JsonNode type) {
    String text = type.isArray() ? "a quantity like '3 h'" : type.asText();
    return switch (text) {
      case "object" -> "a group of keys";
      case "array" -> "a list";
      case "string" -> "a text";
      default -> text;
    };
  }

  private static String list(JsonNode of) {
    return String.join(", ", texts(of));
  }

  private static List<String> texts(JsonNode of) {
    List<String> all = new ArrayList<>();
    of.forEach(n -> all.add(n.asText()));
    return all;
  }
}

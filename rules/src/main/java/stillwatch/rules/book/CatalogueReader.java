package stillwatch.rules.book;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Dimension;
import stillwatch.ingest.unit.Quantities;
import stillwatch.ingest.unit.UnitException;

/** Reads entries of a catalogue from YAML. */
final class CatalogueReader {
  private static final ObjectMapper YAML = new ObjectMapper(new YAMLFactory());

  private static final Pattern SLOT_FORM = Pattern.compile("\\{[A-Za-z0-9_]+:([^}]*)}");
  private static final List<String> SLOT_FORMS =
      List.of(
          "pressure",
          "pressure-difference",
          "count",
          "number",
          "pressure-rate",
          "error-rate",
          "temperature",
          "temperature-difference",
          "sound",
          "sound-difference",
          "tilt",
          "flow",
          "duration",
          "time",
          "own",
          "own-difference",
          "own-offset",
          "own-error",
          "start");

  private CatalogueReader() {}

  /** The entries of a catalogue; {@code name} is the file's for messages. */
  static List<RuleEntry> read(InputStream in, String name) {
    JsonNode root = tree(in, name);
    if (root == null || !root.isArray()) {
      throw new CatalogueException(
          name + ": must be a list of rule entries, each starting with '- id:'");
    }
    List<RuleEntry> entries = new ArrayList<>();
    for (JsonNode n : root) {
      entries.add(entry(n, name));
    }
    return entries;
  }

  private static @Nullable JsonNode tree(InputStream in, String name) {
    try {
      return YAML.readTree(in);
    } catch (IOException e) {
      String reason =
          e instanceof com.fasterxml.jackson.core.JsonProcessingException j
              ? j.getOriginalMessage()
              : e.getMessage();
      throw new CatalogueException(
          name + ": not readable as YAML: " + String.valueOf(reason).lines().findFirst().orElse(""),
          e);
    }
  }

  private static RuleEntry entry(JsonNode n, String name) {
    String id = text(n, "id", name, "an entry");
    List<Parameter> parameters = new ArrayList<>();
    for (JsonNode p : n.path("parameters")) {
      String where = "rule " + id + ", parameter";
      String parameter = text(p, "name", name, where);
      Dimension dimension =
          dimension(text(p, "dimension", name, where), name + ": " + where + " " + parameter);
      String standard = text(p, "standard", name, where);
      try {
        parameters.add(
            new Parameter(
                parameter,
                dimension,
                Quantities.parse(standard, dimension),
                text(p, "about", name, where),
                tuning(p.path("tune"), dimension, name + ": " + where + " " + parameter),
                p.path("follows").asText(null),
                p.path("clock").asText(null)));
      } catch (UnitException e) {
        throw new CatalogueException(
            name + ": " + where + " " + parameter + ": " + e.getMessage(), e);
      }
    }
    String where = "rule " + id;
    slots(text(n, "sentence", name, where), name + ": " + where + ", sentence");
    slots(text(n, "returned", name, where), name + ": " + where + ", returned");
    return new RuleEntry(
        id,
        text(n, "title", name, where),
        priority(n, name, where),
        meaning(n, name, where),
        List.copyOf(parameters),
        text(n, "sentence", name, where),
        text(n, "returned", name, where),
        text(n, "cause", name, where),
        text(n, "consequence", name, where),
        text(n, "response", name, where),
        text(n, "respond-within", name, where),
        text(n, "fooled-by", name, where),
        readings(n, parameters, name + ": " + where),
        sees(n.path("sees"), name + ": " + where + ", sees"),
        excused(n.path("excused")));
  }

  private static String readings(JsonNode n, List<Parameter> parameters, String where) {
    String readings = n.path("readings").asText("");
    if (!readings.matches("\\d*")
        && !readings.equals(RuleEntry.SUDDEN)
        && !readings.equals(RuleEntry.SUSTAINED)
        && parameters.stream().noneMatch(p -> p.name().equals(readings))) {
      throw new CatalogueException(
          where
              + ": readings '"
              + readings
              + "' is neither a number, nor one of the rule's limits, nor '"
              + RuleEntry.SUDDEN
              + "' or '"
              + RuleEntry.SUSTAINED
              + "'");
    }
    return readings;
  }

  private static RuleMeaning meaning(JsonNode n, String name, String where) {
    RuleEntry.About about =
        oneOf(
            RuleEntry.About.class, text(n, "about", name, where), name + ": " + where + ": about");
    boolean excludes = n.path("excludes").asBoolean();
    if (excludes && about != RuleEntry.About.GAUGE) {
      throw new CatalogueException(
          "%s: %s: excludes a gauge but is about the %s; write 'about: gauge', or leave out 'excludes'"
              .formatted(name, where, about.wire()));
    }
    List<String> explains = new ArrayList<>();
    n.path("explains").forEach(id -> explains.add(id.asText()));
    return new RuleMeaning(
        about,
        n.hasNonNull("sense") ? n.path("sense").asText() : null,
        excludes,
        n.path("blinds").asBoolean(),
        explains);
  }

  /** From the grade and the time to respond, or as it is stated; both must say the same. */
  private static Priority priority(JsonNode n, String name, String where) {
    boolean stated = n.hasNonNull("priority");
    if (!n.hasNonNull("grade")) {
      return oneOf(
          Priority.class, text(n, "priority", name, where), name + ": " + where + ": priority");
    }
    Grade grade =
        oneOf(Grade.class, text(n, "grade", name, where), name + ": " + where + ": grade");
    String within = text(n, "respond-within", name, where);
    Priority priority = priority(grade, within, name + ": " + where);
    if (stated && !text(n, "priority", name, where).equals(priority.wire())) {
      throw new CatalogueException(
          "%s: %s: grade %s and %s make the priority %s; leave out 'priority', or 'grade'"
              .formatted(
                  name, where, grade.name().toLowerCase(Locale.ROOT), within, priority.wire()));
    }
    return priority;
  }

  private static Priority priority(Grade grade, String within, String where) {
    if (grade == Grade.NONE) {
      return Priority.INFORMATION;
    }
    try {
      return grade.within(Quantities.parse(within, Dimension.DURATION));
    } catch (UnitException e) {
      throw new CatalogueException(where + ", respond-within: " + e.getMessage(), e);
    }
  }

  private static Parameter.@Nullable Range tuning(
      JsonNode range, Dimension dimension, String where) {
    if (range.isMissingNode()) {
      return null;
    }
    double from = Quantities.parse(range.path(0).asText(), dimension);
    double to = Quantities.parse(range.path(1).asText(), dimension);
    if (range.size() != 2 || !(from > 0) || !(to > from)) {
      throw new CatalogueException(
          where + ": tune must be two values, the second above the first and both above zero");
    }
    return new Parameter.Range(from, to);
  }

  private static Map<String, Double> sees(JsonNode labels, String where) {
    Map<String, Double> sees = new TreeMap<>();
    for (Map.Entry<String, JsonNode> e : labels.properties()) {
      try {
        sees.put(e.getKey(), Quantities.parse(e.getValue().asText(), Dimension.DURATION));
      } catch (UnitException x) {
        throw new CatalogueException(where + " " + e.getKey() + ": " + x.getMessage(), x);
      }
    }
    return Collections.unmodifiableMap(sees);
  }

  private static Set<String> excused(JsonNode labels) {
    Set<String> excused = new TreeSet<>();
    labels.forEach(label -> excused.add(label.asText()));
    return Collections.unmodifiableSet(excused);
  }

  /** A slot whose form nobody knows would be shown without its unit. */
  private static void slots(String sentence, String where) {
    Matcher m = SLOT_FORM.matcher(sentence);
    while (m.find()) {
      if (!SLOT_FORMS.contains(m.group(1))) {
        throw new CatalogueException(
            where
                + ": the slot form '"
                + m.group(1)
                + "' is not known; known are "
                + String.join(", ", SLOT_FORMS));
      }
    }
  }

  private static Dimension dimension(String text, String where) {
    return oneOf(Dimension.class, text, where + ": dimension");
  }

  private static <E extends Enum<E>> E oneOf(Class<E> type, String text, String where) {
    for (E e : type.getEnumConstants()) {
      if (e.name().equals(text.toUpperCase(Locale.ROOT).replace('-', '_'))) {
        return e;
      }
    }
    throw new CatalogueException(where + " '" + text + "' is not known");
  }

  private static String text(JsonNode n, String key, String name, String where) {
    String value = n.path(key).asText("");
    if (value.isBlank()) {
      throw new CatalogueException(name + ": " + where + " lacks '" + key + "'");
    }
    return value;
  }
}

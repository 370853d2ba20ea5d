package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.net.URI;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.recording.RecordingLayout;
import stillwatch.ingest.unit.Dimension;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.UnitException;
import stillwatch.ingest.unit.Units;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.Parameter;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.well.ExpectedPressures;
import stillwatch.rules.well.WellFacts;

/**
 * Makes a plan of a tree, noting what the schema cannot see; tolerant of what the schema has
 * already refused.
 */
final class PlanBinder {
  private final YamlTree tree;
  private final PlanQuantities quantities;
  private final Catalogue catalogue;

  PlanBinder(YamlTree tree, Catalogue catalogue) {
    this.tree = tree;
    quantities = new PlanQuantities(tree);
    this.catalogue = catalogue;
  }

  Plan bind(String fingerprint) {
    JsonNode root = tree.root();
    List<GaugePlan> gauges = gauges(root.path("gauges"));
    FactsBinder facts = new FactsBinder(tree);
    WellFacts known = facts.bind();
    List<ClosingStep> closing = ClosingBinder.closing(tree);
    TestPlan test = new TestBinder(tree).bind(closing);
    LayoutBinder layouts = new LayoutBinder(tree, gauges);
    RecordingLayout recordings = layouts.bind(root.path("recordings"), "/recordings");
    return new Plan(
        root.path("well").asText(),
        root.path("name").asText(),
        root.path("revision").asText(),
        fingerprint,
        gauges,
        known,
        facts.missing(),
        root.has("bands") ? bands(root.path("bands")) : bandsOf(known, facts.missing()),
        test,
        new TimeBinder(tree).bind(),
        root.path("telemetry").path("open").asBoolean(),
        new OperationsBinder(tree).bind(),
        new SurroundingsBinder(tree).bind(),
        rules(root.path("rules")),
        recordings,
        new DeskBinder(tree, catalogue).bind(),
        new RoutesBinder(tree).bind(),
        heartbeat(root.path("routes").path("heartbeat")),
        display(root.path("display")),
        root.path("display").path("zone").isTextual()
            ? Optional.of(layouts.zone(root.path("display").path("zone"), "/display/zone"))
            : Optional.empty(),
        new SourcesBinder(tree, gauges, layouts, recordings).bind(),
        new ReopeningBinder(tree).bind(),
        new ReadinessBinder(tree).bind(test),
        closing,
        ClosingBinder.opening(tree));
  }

  private List<GaugePlan> gauges(JsonNode list) {
    List<GaugePlan> gauges = new ArrayList<>();
    Set<String> ids = new HashSet<>();
    Map<String, List<Integer>> twins = new LinkedHashMap<>();
    for (int i = 0; i < list.size(); i++) {
      String at = "/gauges/" + i;
      GaugePlan gauge = gauge(withoutUnitsOfAnUnknownKind(list.get(i)), at, ids);
      String twin = gauge.twin();
      if (twin != null) {
        twins.computeIfAbsent(twin, t -> new ArrayList<>()).add(i);
      }
      gauges.add(gauge);
    }
    if (list.isArray() && !list.isEmpty() && gauges.stream().noneMatch(GaugePlan::ofShutIn)) {
      tree.faultAtKey(
          "/gauges",
          "no gauge measures the shut-in pressure, so nobody would watch the well; write 'role: shut-in' at the pressure gauge inside the capping assembly");
    }
    twins.forEach((twin, members) -> twins(twin, members, gauges));
    return List.copyOf(gauges);
  }

  private GaugePlan gauge(JsonNode g, String at, Set<String> ids) {
    String id = g.path("id").asText();
    if (!id.isEmpty() && !ids.add(id)) {
      tree.fault(at + "/id", "gauge '" + id + "' stands twice; give one another id");
    }
    Kind kind = kind(g.path("kind").asText());
    unit(kind, g.path("unit"), at + "/unit");
    Dimension dimension = dimension(kind);
    double low =
        quantity(g.path("range"), at + "/range", "low", dimension, Double.NEGATIVE_INFINITY);
    double high =
        quantity(g.path("range"), at + "/range", "high", dimension, Double.POSITIVE_INFINITY);
    if (low >= high) {
      tree.fault(at + "/range", "the range's low end must be below its high end");
    }
    double period = quantity(g, at, "period", Dimension.DURATION, 1);
    if (period <= 0) {
      tree.fault(at + "/period", "a period must be longer than zero");
    }
    return new GaugePlan(
        id,
        kind,
        g.path("where").asText(""),
        g.path("unit").asText(),
        Duration.ofMillis(Math.round(Math.max(period, 0.001) * 1000)),
        low,
        high,
        quantity(g, at, "accuracy", dimension.difference(), 0),
        quantity(g, at, "resolution", dimension.difference(), 0),
        g.hasNonNull("twin") ? g.path("twin").asText() : null,
        role(g.path("role").asText("other")),
        depth(g, at));
  }

  private void twins(String twin, List<Integer> members, List<GaugePlan> gauges) {
    String at = "/gauges/" + members.get(0) + "/twin";
    if (members.size() == 1) {
      tree.fault(
          at,
          "no other gauge has the twin group '"
              + twin
              + "'; name it at its twin too, or leave it out");
    } else if (members.stream().map(i -> gauges.get(i).kind()).distinct().count() > 1) {
      tree.fault(at, "the gauges of twin group '" + twin + "' must be of one kind");
    }
  }

  private double depth(JsonNode g, String at) {
    double depth = quantity(g, at, "depth", Dimension.LENGTH, Double.NaN);
    if (depth < 0) {
      tree.fault(
          at + "/depth", "a depth is counted down from the sea's surface; write it above 0 m");
    }
    return depth;
  }

  private Bands bands(JsonNode b) {
    double intact = quantity(b, "/bands", "intact-low", Dimension.PRESSURE, Double.NaN);
    double leak = quantity(b, "/bands", "leak-high", Dimension.PRESSURE, Double.NaN);
    double ceiling = quantity(b, "/bands", "ceiling", Dimension.PRESSURE, Double.NaN);
    if (leak >= intact) {
      tree.fault(
          "/bands/leak-high",
          "leak-high must be below intact-low: between them the level is ambiguous");
    }
    if (intact >= ceiling) {
      tree.fault("/bands/ceiling", "the ceiling must be above intact-low");
    }
    return new Bands(intact, leak, ceiling, List.of());
  }

  /** Bands worked out of the facts; where the leaks reach into the intact levels, up to those. */
  private Bands bandsOf(@Nullable WellFacts facts, List<String> missing) {
    if (facts == null || facts.leaks().isEmpty() || facts.barriers().isEmpty()) {
      tree.fault(
          "",
          "state 'bands', or enough under 'facts' to work them out: it lacks "
              + String.join(", ", missing.isEmpty() ? List.of("leaks", "barriers") : missing));
      return new Bands(Double.NaN, Double.NaN, Double.NaN, List.of());
    }
    if (!tree.sound()) {
      return new Bands(Double.NaN, Double.NaN, Double.NaN, List.of());
    }
    ExpectedPressures expected = ExpectedPressures.of(facts);
    double intact = expected.intactLow();
    return new Bands(
        intact,
        Math.min(intact, expected.leakHigh()),
        expected.limit(),
        expected.build().stream()
            .map(
                t ->
                    new Bands.ByTime(
                        t.hours(), t.intactLow(), Math.min(t.intactLow(), t.leakHigh())))
            .toList());
  }

  private static Duration seconds(double s) {
    return Duration.ofMillis(Math.round(s * 1000));
  }

  private Map<String, RuleSetting> rules(JsonNode rules) {
    Map<String, RuleSetting> settings = new LinkedHashMap<>();
    List<String> ids = catalogue.rules().stream().map(RuleEntry::id).toList();
    for (Map.Entry<String, JsonNode> e : rules.properties()) {
      String at = "/rules/" + e.getKey();
      RuleEntry rule = catalogue.rule(e.getKey()).orElse(null);
      if (rule == null) {
        tree.faultAtKey(
            at, "there is no rule '" + e.getKey() + "'" + Nearest.hint(e.getKey(), ids));
      } else {
        settings.put(e.getKey(), setting(rule, e.getValue(), at));
      }
    }
    return settings;
  }

  private RuleSetting setting(RuleEntry rule, JsonNode node, String at) {
    Map<String, Double> parameters = new LinkedHashMap<>();
    List<String> names = rule.parameters().stream().map(Parameter::name).toList();
    for (Iterator<String> i = node.fieldNames(); i.hasNext(); ) {
      String name = i.next();
      if (name.equals("off") || name.equals("advice")) {
        continue;
      }
      Parameter parameter =
          rule.parameters().stream().filter(p -> p.name().equals(name)).findFirst().orElse(null);
      if (parameter == null) {
        tree.faultAtKey(
            at + "/" + name,
            "rule '" + rule.id() + "' has no limit '" + name + "'" + Nearest.hint(name, names));
      } else {
        parameters.put(name, quantity(node, at, name, parameter.dimension(), parameter.standard()));
      }
    }
    String off = node.hasNonNull("off") ? node.path("off").asText() : null;
    String advice = node.hasNonNull("advice") ? node.path("advice").asText() : null;
    return new RuleSetting(parameters, off, advice);
  }

  private Plan.@Nullable Heartbeat heartbeat(JsonNode h) {
    if (!h.isObject()) {
      return null;
    }
    try {
      double every = quantity(h, "/routes/heartbeat", "every", Dimension.DURATION, 60);
      return new Plan.Heartbeat(URI.create(h.path("url").asText()), seconds(Math.max(1, every)));
    } catch (IllegalArgumentException e) {
      tree.fault("/routes/heartbeat/url", "'" + h.path("url").asText() + "' is no address");
      return null;
    }
  }

  private Map<Kind, String> display(JsonNode d) {
    Map<Kind, String> units = new EnumMap<>(Kind.class);
    for (Kind kind : Kind.values()) {
      if (d.hasNonNull(kind.wire())) {
        unit(kind, d.path(kind.wire()), "/display/" + kind.wire());
        units.put(kind, d.path(kind.wire()).asText());
      }
    }
    return units;
  }

  private void unit(Kind kind, JsonNode node, String pointer) {
    if (node.isTextual()) {
      try {
        Units.of(kind, node.asText());
      } catch (UnitException e) {
        tree.fault(pointer, String.valueOf(e.getMessage()));
      }
    }
  }

  private double quantity(
      JsonNode parent, String at, String key, Dimension dimension, double otherwise) {
    return quantities.of(parent, at, key, dimension, otherwise);
  }

  /** An unknown kind is told once, not again by everything that has a unit. */
  private static JsonNode withoutUnitsOfAnUnknownKind(JsonNode gauge) {
    String kind = gauge.path("kind").asText();
    boolean known = Arrays.stream(Kind.values()).anyMatch(k -> k.wire().equals(kind));
    return known || !(gauge instanceof ObjectNode o)
        ? gauge
        : o.deepCopy().without(List.of("unit", "range", "accuracy", "resolution"));
  }

  private static Kind kind(String wire) {
    return Arrays.stream(Kind.values())
        .filter(k -> k.wire().equals(wire))
        .findFirst()
        .orElse(Kind.PRESSURE);
  }

  private static GaugePlan.Role role(String wire) {
    return Arrays.stream(GaugePlan.Role.values())
        .filter(r -> r.wire().equals(wire))
        .findFirst()
        .orElse(GaugePlan.Role.OTHER);
  }

  private static Dimension dimension(Kind kind) {
    return switch (kind) {
      case PRESSURE -> Dimension.PRESSURE;
      case TEMPERATURE -> Dimension.TEMPERATURE;
      case SOUND -> Dimension.SOUND;
      case TILT -> Dimension.TILT;
      case FLOW -> Dimension.FLOW;
    };
  }
}

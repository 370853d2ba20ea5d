package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Dimension;
import stillwatch.rules.well.Hydrophone;
import stillwatch.rules.well.Uncertain;
import stillwatch.rules.well.WellFacts;

/** Makes the facts of a well of a plan's {@code facts}. */
final class FactsBinder {
  private static final String AT = "/facts";

  private final YamlTree tree;
  private final PlanQuantities quantities;
  private final JsonNode facts;

  FactsBinder(YamlTree tree) {
    this.tree = tree;
    quantities = new PlanQuantities(tree);
    facts = tree.root().path("facts");
  }

  /** The facts, or null where too little is said to expect a pressure of them. */
  @Nullable WellFacts bind() {
    double water = length("water-depth", Double.NaN);
    double wellhead = length("wellhead-depth", water);
    double datum = length("datum-depth", Double.NaN);
    Uncertain reservoirPressure = above(facts, AT, "reservoir-pressure", Dimension.PRESSURE);
    WellFacts.Fluid fluid = fluid();
    WellFacts.Sea sea = sea();
    WellFacts.Flow flow = flow();
    WellFacts.Reservoir reservoir = reservoir();
    WellFacts.Rock rock = rock();
    Uncertain cooling =
        facts.has("cooling")
            ? quantities.uncertain(facts, AT, "cooling", Dimension.PRESSURE)
            : WellFacts.UNTOLD_COOLING;
    List<WellFacts.LeakPath> leaks = leaks();
    List<Hydrophone> hydrophones = hydrophones();
    List<WellFacts.Barrier> barriers = barriers();
    double margin = quantities.of(facts, AT, "ceiling-margin", Dimension.PRESSURE, 0);
    if (datum <= wellhead) {
      tree.fault(AT + "/datum-depth", "the datum must lie deeper than the wellhead");
    }
    return missing().isEmpty() && fluid != null && sea != null
        ? new WellFacts(
            wellhead,
            datum,
            reservoirPressure,
            fluid,
            sea,
            flow,
            reservoir,
            rock,
            cooling,
            leaks,
            hydrophones,
            barriers,
            margin)
        : null;
  }

  /** The facts without which no pressure can be expected and that the plan does not say. */
  List<String> missing() {
    List<String> missing = new ArrayList<>();
    for (String key : List.of("datum-depth", "reservoir-pressure")) {
      if (!facts.has(key)) {
        missing.add(key);
      }
    }
    either(missing, "water-depth", "wellhead-depth");
    either(missing, "fluid-gradient", "liquid");
    either(missing, "sea-gradient", "latitude");
    return missing;
  }

  private void either(List<String> missing, String one, String other) {
    if (!facts.has(one) && !facts.has(other)) {
      missing.add(one + " (or " + other + ")");
    }
  }

  private double length(String key, double otherwise) {
    return facts.has(key) ? depth(facts, AT, key) : otherwise;
  }

  private double depth(JsonNode parent, String at, String key) {
    double depth = quantities.of(parent, at, key, Dimension.LENGTH, Double.NaN);
    if (depth <= 0) {
      tree.fault(at + "/" + key, "a depth is counted downwards from the sea's surface, above zero");
    }
    return depth;
  }

  private WellFacts.@Nullable Fluid fluid() {
    JsonNode l = facts.path("liquid");
    if (l.isObject() && facts.has("fluid-gradient")) {
      tree.faultAtKey(AT + "/liquid", "say either 'fluid-gradient' or 'liquid', not both");
    }
    if (l.isObject()) {
      return liquid(l, AT + "/liquid");
    }
    return facts.has("fluid-gradient")
        ? new WellFacts.Gradient(above(facts, AT, "fluid-gradient", Dimension.GRADIENT))
        : null;
  }

  private WellFacts.Liquid liquid(JsonNode l, String at) {
    return new WellFacts.Liquid(
        above(l, at, "density", Dimension.DENSITY),
        quantities.of(l, at, "at-pressure", Dimension.PRESSURE, Double.NaN),
        quantities.of(l, at, "at-temperature", Dimension.TEMPERATURE, Double.NaN),
        above(l, at, "compressibility", Dimension.COMPRESSIBILITY),
        quantities.uncertain(l, at, "expansion", Dimension.EXPANSION),
        quantities.uncertain(l, at, "wellhead-temperature", Dimension.TEMPERATURE),
        quantities.uncertain(l, at, "datum-temperature", Dimension.TEMPERATURE));
  }

  private WellFacts.@Nullable Sea sea() {
    double gradient = quantities.of(facts, AT, "sea-gradient", Dimension.GRADIENT, Double.NaN);
    if (gradient <= 0) {
      tree.fault(AT + "/sea-gradient", "must be above zero");
    }
    double latitude = quantities.of(facts, AT, "latitude", Dimension.LATITUDE, Double.NaN);
    if (Math.abs(latitude) > 90) {
      tree.fault(AT + "/latitude", "a latitude lies between -90 and 90 deg");
    }
    return !Double.isNaN(gradient)
        ? new WellFacts.Sea(gradient, latitude)
        : Double.isNaN(latitude) ? null : new WellFacts.Sea(null, latitude);
  }

  private WellFacts.@Nullable Flow flow() {
    JsonNode f = facts.path("flow");
    String at = AT + "/flow";
    double seconds = quantities.of(f, at, "lasted", Dimension.DURATION, Double.NaN);
    if (seconds <= 0) {
      tree.fault(at + "/lasted", "the flow must have lasted longer than zero");
    }
    return f.isObject()
        ? new WellFacts.Flow(
            above(f, at, "rate", Dimension.FLOW),
            seconds / 3600,
            above(f, at, "volume-factor", Dimension.NUMBER))
        : null;
  }

  private WellFacts.@Nullable Reservoir reservoir() {
    JsonNode r = facts.path("reservoir");
    String at = AT + "/reservoir";
    return r.isObject()
        ? new WellFacts.Reservoir(
            above(r, at, "pore-volume", Dimension.VOLUME),
            above(r, at, "compressibility", Dimension.COMPRESSIBILITY))
        : null;
  }

  private WellFacts.@Nullable Rock rock() {
    JsonNode r = facts.path("rock");
    String at = AT + "/rock";
    return r.isObject()
        ? new WellFacts.Rock(
            above(r, at, "permeability-thickness", Dimension.PERMEABILITY_THICKNESS),
            above(r, at, "viscosity", Dimension.VISCOSITY),
            contact(r, at))
        : null;
  }

  private WellFacts.@Nullable Contact contact(JsonNode rock, String at) {
    if (!rock.has("height")) {
      return null;
    }
    double radius = quantities.of(rock, at, "well-radius", Dimension.LENGTH, Double.NaN);
    if (radius <= 0) {
      tree.fault(at + "/well-radius", "must be above zero");
    }
    return new WellFacts.Contact(
        above(rock, at, "height", Dimension.LENGTH),
        above(rock, at, "porosity", Dimension.NUMBER),
        radius);
  }

  private Uncertain above(JsonNode parent, String at, String key, Dimension dimension) {
    Uncertain u = quantities.uncertain(parent, at, key, dimension);
    if (u.low() <= 0) {
      tree.fault(at + "/" + key, "must be above zero, its lowest value too");
    }
    return u;
  }

  private List<WellFacts.LeakPath> leaks() {
    List<WellFacts.LeakPath> leaks = new ArrayList<>();
    JsonNode list = facts.path("leaks");
    for (int i = 0; i < list.size(); i++) {
      String at = AT + "/leaks/" + i;
      JsonNode l = list.get(i);
      leaks.add(
          new WellFacts.LeakPath(
              l.path("name").asText(),
              depth(l, at, "depth"),
              above(l, at, "takes", Dimension.PRESSURE),
              closesAgain(l.path("closes-again").asText()),
              l.path("lost-by-waiting").asText().strip()));
    }
    return List.copyOf(leaks);
  }

  /** What the schema has refused already, and what is left out, is not known. */
  private static WellFacts.ClosesAgain closesAgain(String wire) {
    return Arrays.stream(WellFacts.ClosesAgain.values())
        .filter(c -> c.wire().equals(wire))
        .findFirst()
        .orElse(WellFacts.ClosesAgain.UNKNOWN);
  }

  private List<Hydrophone> hydrophones() {
    List<Hydrophone> hydrophones = new ArrayList<>();
    JsonNode list = facts.path("hydrophones");
    for (int i = 0; i < list.size(); i++) {
      String at = AT + "/hydrophones/" + i;
      JsonNode h = list.get(i);
      String gauge = h.path("gauge").asText();
      if (!isHydrophone(gauge)) {
        tree.fault(at + "/gauge", "the plan has no gauge '" + gauge + "' of kind sound");
      }
      hydrophones.add(
          new Hydrophone(
              gauge,
              quantities.uncertain(h, at, "background", Dimension.SOUND),
              quantities.uncertain(h, at, "one-percent-leak", Dimension.SOUND)));
    }
    return List.copyOf(hydrophones);
  }

  private boolean isHydrophone(String gauge) {
    for (JsonNode g : tree.root().path("gauges")) {
      if (g.path("id").asText().equals(gauge) && g.path("kind").asText().equals("sound")) {
        return true;
      }
    }
    return false;
  }

  private List<WellFacts.Barrier> barriers() {
    List<WellFacts.Barrier> barriers = new ArrayList<>();
    JsonNode list = facts.path("barriers");
    for (int i = 0; i < list.size(); i++) {
      String at = AT + "/barriers/" + i;
      JsonNode b = list.get(i);
      barriers.add(
          new WellFacts.Barrier(
              b.path("name").asText(),
              depth(b, at, "depth"),
              above(b, at, "rating", Dimension.PRESSURE),
              b.has("outside")
                  ? quantities.uncertain(b, at, "outside", Dimension.PRESSURE)
                  : null));
    }
    return List.copyOf(barriers);
  }
}

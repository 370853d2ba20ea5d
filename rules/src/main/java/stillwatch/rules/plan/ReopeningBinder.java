package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import stillwatch.ingest.unit.Dimension;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.well.Uncertain;

/** Makes what a plan says of how the flow is collected when the well is reopened. */
final class ReopeningBinder {
  private static final String AT = "/reopening";

  private final YamlTree tree;
  private final PlanQuantities quantities;

  ReopeningBinder(YamlTree tree) {
    this.tree = tree;
    quantities = new PlanQuantities(tree);
  }

  /** Empty where the plan says nothing of it. */
  Optional<Reopening> bind() {
    JsonNode r = tree.root().path("reopening");
    if (!r.isObject()) {
      return Optional.empty();
    }
    List<Reopening.Outlet> outlets = outlets(r.path("outlets"));
    List<Reopening.CollectionUnit> units = units(r.path("units"), outlets);
    Optional<Reopening.Weather> weather = weather(r.path("weather"));
    withoutUnits(outlets, units);
    againstWeather(weather.isPresent(), units);
    return Optional.of(new Reopening(above(r, AT, "expected-flow"), outlets, units, weather));
  }

  private List<Reopening.Outlet> outlets(JsonNode list) {
    List<Reopening.Outlet> outlets = new ArrayList<>();
    Set<String> names = new HashSet<>();
    for (int i = 0; i < list.size(); i++) {
      String at = AT + "/outlets/" + i;
      String name = name(list.path(i), at, "outlet", names);
      outlets.add(
          new Reopening.Outlet(
              name,
              list.path(i).has("capacity")
                  ? Optional.of(above(list.path(i), at, "capacity"))
                  : Optional.empty()));
    }
    return List.copyOf(outlets);
  }

  private List<Reopening.CollectionUnit> units(JsonNode list, List<Reopening.Outlet> outlets) {
    if (list.isArray() && (list.isEmpty() || list.size() > Reopening.MOST_UNITS)) {
      tree.faultAtKey(
          AT + "/units",
          list.isEmpty()
              ? "no unit collects anything; list the vessels and lines that would, one at least"
              : list.size()
                  + " units are more than all states can be counted of; list "
                  + Reopening.MOST_UNITS
                  + " at most, small ones together as one");
    }
    List<Reopening.CollectionUnit> units = new ArrayList<>();
    Set<String> names = new HashSet<>();
    for (int i = 0; i < list.size(); i++) {
      units.add(unit(list.path(i), AT + "/units/" + i, outlets, names));
    }
    return List.copyOf(units);
  }

  private Reopening.CollectionUnit unit(
      JsonNode u, String at, List<Reopening.Outlet> outlets, Set<String> names) {
    String name = name(u, at, "unit", names);
    String outlet = u.path("outlet").asText();
    List<String> known = outlets.stream().map(Reopening.Outlet::name).toList();
    if (!known.contains(outlet) && u.path("outlet").isTextual()) {
      tree.fault(
          at + "/outlet",
          "there is no outlet '"
              + outlet
              + "' under 'reopening'"
              + Nearest.hint(outlet, known)
              + "; name one of its outlets");
    }
    double availability = quantities.of(u, at, "availability", Dimension.NUMBER, 1);
    if (!(availability > 0 && availability <= 1)) {
      tree.fault(
          at + "/availability",
          "is the share of time that the unit can collect, weather aside; write it above 0 % and up to 100 %");
    }
    return new Reopening.CollectionUnit(
        name,
        outlet,
        above(u, at, "capacity"),
        availability,
        lasting(u, at, "time-to-connect", "is how long it takes on average to collect again"),
        u.has("back-after-weather")
            ? Optional.of(
                lasting(u, at, "back-after-weather", "is how long after the weather it collects"))
            : Optional.empty());
  }

  private String name(JsonNode node, String at, String what, Set<String> names) {
    String name = node.path("name").asText();
    if (!name.isEmpty() && !names.add(name)) {
      tree.fault(at + "/name", what + " '" + name + "' stands twice; give one another name");
    }
    return name;
  }

  private Optional<Reopening.Weather> weather(JsonNode w) {
    String at = AT + "/weather";
    return w.isObject()
        ? Optional.of(
            new Reopening.Weather(
                lasting(w, at, "every", "is the mean time from one storm's end to the next"),
                lasting(w, at, "lasts", "is the mean time that a storm lasts")))
        : Optional.empty();
  }

  private void withoutUnits(List<Reopening.Outlet> outlets, List<Reopening.CollectionUnit> units) {
    for (int k = 0; k < outlets.size(); k++) {
      String name = outlets.get(k).name();
      if (units.stream().noneMatch(u -> u.outlet().equals(name))) {
        tree.fault(
            AT + "/outlets/" + k,
            "no unit takes what comes through '"
                + name
                + "'; name it as the 'outlet' of a unit, or leave it out");
      }
    }
  }

  private void againstWeather(boolean told, List<Reopening.CollectionUnit> units) {
    for (int i = 0; i < units.size(); i++) {
      if (!told && units.get(i).backAfterWeather().isPresent()) {
        tree.faultAtKey(
            AT + "/units/" + i + "/back-after-weather",
            "says when it is back, and no weather takes it away; add 'weather' with 'every' and 'lasts' under 'reopening', or leave it out");
      }
    }
    if (told && units.stream().allMatch(u -> u.backAfterWeather().isEmpty())) {
      tree.faultAtKey(
          AT + "/weather",
          "takes no unit away; say 'back-after-weather' at each unit that leaves for it, or leave 'weather' out");
    }
  }

  private Uncertain above(JsonNode parent, String at, String key) {
    Uncertain u = quantities.uncertain(parent, at, key, Dimension.FLOW);
    if (u.low() <= 0) {
      tree.fault(
          at + "/" + key,
          u.form() == Uncertain.Form.NORMAL
              ? "must be above zero, three deviations below its mean too"
              : "must be above zero, its lowest value too");
    }
    return u;
  }

  private Duration lasting(JsonNode parent, String at, String key, String what) {
    double seconds = quantities.of(parent, at, key, Dimension.DURATION, 1);
    if (seconds <= 0) {
      tree.fault(at + "/" + key, what + "; it must be longer than zero");
    }
    return Duration.ofMillis(Math.max(1, Math.round(seconds * 1000)));
  }
}

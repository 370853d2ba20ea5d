package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.rules.capacity.Loss;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.indicator.UnitIndicator;
import stillwatch.rules.plan.Flows;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.well.Uncertain;

/**
 * Which units of the plan's reopening collect, as people log it. A unit that nobody has logged
 * collects. Not thread-safe.
 */
public final class Collecting {
  private final Optional<Reopening> reopening;
  private final Flows flows;
  private final Map<String, Observation> last = new LinkedHashMap<>();

  /** How a unit stands. */
  public record Unit(String name, boolean lost, long atMs, String by, String text) {}

  Collecting(Plan plan) {
    reopening = plan.reopening();
    flows = Flows.of(plan);
  }

  /**
   * Takes an observation; says whether it is about a unit of the plan. One that was made before the
   * last one about the same unit changes nothing.
   */
  boolean accept(Observation observation) {
    Optional<String> unit = unit(observation);
    unit.ifPresent(
        u -> {
          Observation before = last.get(u);
          if (before == null || observation.atMs() >= before.atMs()) {
            last.put(u, observation);
          }
        });
    return unit.isPresent();
  }

  private Optional<String> unit(Observation observation) {
    if (!observation.means().equals(Observation.COLLECTION)) {
      return Optional.empty();
    }
    String text = observation.text().strip();
    return reopening.stream()
        .flatMap(r -> r.units().stream())
        .map(Reopening.CollectionUnit::name)
        .filter(
            n ->
                text.equalsIgnoreCase(n) || text.regionMatches(true, 0, n + ":", 0, n.length() + 1))
        .findFirst();
  }

  private Set<String> lost() {
    Set<String> lost = new TreeSet<>();
    last.forEach(
        (unit, said) -> {
          if (said.result() != Observation.Result.CLEAR) {
            lost.add(unit);
          }
        });
    return lost;
  }

  /** The units that somebody has logged. */
  public List<Unit> units() {
    List<Unit> all = new ArrayList<>();
    Set<String> lost = lost();
    last.forEach(
        (unit, said) ->
            all.add(new Unit(unit, lost.contains(unit), said.atMs(), said.by(), said.text())));
    return all;
  }

  /**
   * What the units that collect could take, against what would flow, one sentence without its stop;
   * empty where the plan says nothing of a reopening.
   */
  public String balance() {
    return reopening.map(this::balance).orElse("");
  }

  private String balance(Reopening r) {
    Loss left = Loss.ofLost(r, lost());
    Uncertain flow = r.expectedFlow();
    String what =
        left.low() >= flow.high()
            ? "that is enough for all of the flow"
            : left.high() < flow.low()
                ? "at least %s would not be collected".formatted(rate(flow.low() - left.high()))
                : "up to %s might not be collected".formatted(rate(flow.high() - left.low()));
    return "What collects now could take %s to %s, and %s to %s would flow: %s"
        .formatted(
            flows.plain(left.low()),
            rate(left.high()),
            flows.plain(flow.low()),
            rate(flow.high()),
            what);
  }

  private String rate(double m3PerD) {
    return flows.plain(m3PerD) + " " + flows.sign();
  }

  /** For the rules: the units that somebody has logged. */
  List<UnitIndicator> indicators(String well, long nowMs, boolean opening) {
    if (last.isEmpty()) {
      return List.of();
    }
    String balance = balance();
    return units().stream()
        .map(u -> new UnitIndicator(well, nowMs, u.name(), u.lost(), opening, u.atMs(), balance))
        .toList();
  }
}

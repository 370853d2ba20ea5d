package stillwatch.rules.watch;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
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
  private final CollectedFlow flow;
  private final Map<String, Unit> last = new LinkedHashMap<>();

  /** Worked out when a unit is logged: the rules ask at every moment. */
  private String balance;

  /** How a unit stands. */
  public record Unit(String name, boolean lost, long atMs, String by, String text) {}

  Collecting(Plan plan) {
    reopening = plan.reopening();
    flows = Flows.of(plan);
    flow = new CollectedFlow(plan);
    balance = worked();
  }

  /**
   * Takes an observation; says whether it is about a unit of the plan. One that was made before the
   * last one about the same unit changes nothing.
   */
  boolean accept(Observation observation) {
    Optional<String> unit = unit(observation);
    unit.ifPresent(
        u -> {
          Unit before = last.get(u);
          if (before == null || observation.atMs() >= before.atMs()) {
            last.put(u, unit(u, observation));
            balance = worked();
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

  private static Unit unit(String name, Observation said) {
    boolean lost = said.result() != Observation.Result.CLEAR;
    return new Unit(name, lost, said.atMs(), said.by(), said.text());
  }

  /** The units that somebody has logged. */
  public List<Unit> units() {
    return List.copyOf(last.values());
  }

  /**
   * What the units that collect could take, against what would flow, one sentence without its stop;
   * empty where the plan says nothing of a reopening.
   */
  public String balance() {
    return balance;
  }

  private String worked() {
    return reopening.map(this::worked).orElse("");
  }

  private String worked(Reopening r) {
    Loss left =
        Loss.ofLost(
            r,
            last.values().stream().filter(Unit::lost).map(Unit::name).collect(Collectors.toSet()));
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

  /** What is collected, beside what comes out of the well. */
  CollectedFlow flow() {
    return flow;
  }

  /** For the rules: the units that somebody has logged. */
  List<UnitIndicator> indicators(String well, long nowMs, boolean opening) {
    return last.values().stream()
        .map(u -> new UnitIndicator(well, nowMs, u.name(), u.lost(), opening, u.atMs(), balance))
        .toList();
  }
}

package stillwatch.alerts.series;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.MissingNode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.capacity.Interval;
import stillwatch.rules.capacity.LongRun;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.capacity.Uncollected;
import stillwatch.rules.finding.UtcText;
import stillwatch.rules.plan.Flows;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.watch.Collecting;
import stillwatch.rules.well.Explanation;
import stillwatch.rules.well.Uncertain;
import stillwatch.rules.well.WellFacts;

/**
 * What it costs to be wrong at a hold point, beside the explanations of the build-up: what leaves
 * the well where it leaks and stays shut, and what is not collected where it is intact and is
 * reopened. Figures follow from the plan's facts with their ranges, and each row says what it
 * assumes; none is weighed against another. Where a fact is missing the row says which. Safe from
 * any thread.
 */
public final class WrongCosts {
  private static final double DAY_HOURS = 24;

  private final Plan plan;
  private final @Nullable WellFacts facts;
  private final Flows flows;
  private Set<String> lost = Set.of();
  private @Nullable Uncollected worked;

  /**
   * What one error costs.
   *
   * @param explanation what would be so
   * @param error what would have been decided
   * @param cost what that costs
   * @param assumes what the figures assume
   */
  public record Row(String explanation, String error, String cost, String assumes) {}

  /** The costs by a plan's facts. */
  public WrongCosts(Plan plan) {
    this.plan = plan;
    facts = plan.facts();
    flows = Flows.of(plan);
  }

  /**
   * The costs: a row for each leak that the newest review names, then one for an intact well.
   *
   * @param review what the newest review says; empty before the first
   * @param units the units that somebody has logged
   */
  public List<Row> rows(Optional<JsonNode> review, List<Collecting.Unit> units) {
    List<Row> rows = new ArrayList<>();
    JsonNode said = review.orElse(MissingNode.getInstance());
    for (JsonNode c : said.path("candidates")) {
      leak(c.path("name").asText())
          .ifPresent(x -> rows.add(keptShut(x, c, said.path("at").asText())));
    }
    if (rows.isEmpty()) {
      rows.add(
          new Row(
              "a leak",
              "kept shut",
              "Not known: no explanations of this shut-in have been compared.",
              "They are compared from one hour after the shut-in on, where the plan has facts."));
    }
    rows.add(
        reopened(
            units.stream()
                .filter(Collecting.Unit::lost)
                .map(Collecting.Unit::name)
                .collect(Collectors.toSet())));
    return List.copyOf(rows);
  }

  private static Optional<Explanation> leak(String words) {
    return Arrays.stream(Explanation.values())
        .filter(x -> x.leak() && x.words().equals(words))
        .findFirst();
  }

  private Row keptShut(Explanation leak, JsonNode candidate, String at) {
    return new Row(
        leak.words(),
        "kept shut",
        volume(leak, candidate) + "\n" + afterwards(leak),
        "Leak as of "
            + UtcText.of(Instant.parse(at).toEpochMilli())
            + ": 90 % of what pressure and sound allow, times the flow of the facts, at surface conditions. It neither grows nor closes.");
  }

  private String volume(Explanation leak, JsonNode candidate) {
    WellFacts.Flow flow = facts == null ? null : facts.flow();
    if (leak == Explanation.LEAK_TO_ROCK && (facts == null || facts.leaks().isEmpty())) {
      return "Not known: the facts name no rock that takes fluid (facts: leaks).";
    }
    boolean sized = candidate.has("leak_high");
    double low = candidate.path("leak_low").asDouble();
    double high = sized ? candidate.path("leak_high").asDouble() : 1;
    String share =
        sized ? range(100 * low, 100 * high, "%.1f") + " % of the flow" : "no size can be told";
    if (flow == null) {
      return "Not known in volumes (" + share + "): the facts have no flow (facts: flow).";
    }
    Uncertain rate = flow.rate();
    return "%s an hour leave the well (%s)."
        .formatted(hourly(low * rate.low(), high * rate.high()), share);
  }

  /** Whether the leak can be undone, and what waiting loses. */
  private String afterwards(Explanation leak) {
    if (leak != Explanation.LEAK_TO_ROCK || facts == null) {
      return "Whether it closes again once pressure is taken off is not in the facts.";
    }
    return facts.leaks().stream()
        .map(
            p ->
                "%s: closes again once pressure is taken off: %s; lost by waiting: %s."
                    .formatted(
                        p.name(),
                        p.closesAgain().wire(),
                        p.lostByWaiting().isEmpty() ? "not stated" : p.lostByWaiting()))
        .collect(Collectors.joining("\n"));
  }

  private Row reopened(Set<String> without) {
    Optional<Reopening> reopening = plan.reopening();
    if (reopening.isEmpty()) {
      return new Row(
          "an intact well",
          "reopened",
          "Not known: the plan does not say what would flow and what could be collected (reopening).",
          "");
    }
    Uncollected u = uncollected(reopening.get(), without);
    Uncertain flow = reopening.get().expectedFlow();
    Interval holds = u.now().holds();
    LongRun longRun = u.longRun();
    return new Row(
        "an intact well",
        "reopened",
        "%s an hour flow; %s an hour of it are not collected%s. The capacity is at least the flow in %.1f %% of the draws (95 %%: %s %%). In the long run, with outages and weather, it is so %.1f %% of the time, and %s an hour are not collected on average."
            .formatted(
                hourly(flow.low(), flow.high()),
                hourly(u.leastM3PerD(), u.mostM3PerD()),
                without.isEmpty()
                    ? ""
                    : " without " + String.join(", ", without.stream().sorted().toList()),
                100 * holds.value(),
                range(100 * holds.low(), 100 * holds.high(), "%.1f"),
                100 * longRun.holds().value(),
                flows.volume(longRun.spillM3PerD().value() / DAY_HOURS)),
        "Flow and capacities of the plan, each range drawn by itself; the flow stays the same. The long run has all units of the plan. What else is not known: see capacity.");
  }

  private synchronized Uncollected uncollected(Reopening reopening, Set<String> without) {
    Uncollected known = worked;
    if (known == null || !without.equals(lost)) {
      known = Uncollected.of(reopening, without);
      worked = known;
      lost = without;
    }
    return known;
  }

  /** A range of flows, m³/d, as volumes by the hour. */
  private String hourly(double low, double high) {
    return flows.volumes(low / DAY_HOURS, high / DAY_HOURS);
  }

  private static String range(double low, double high, String form) {
    return String.format(Locale.ROOT, form + " to " + form, low, high);
  }
}

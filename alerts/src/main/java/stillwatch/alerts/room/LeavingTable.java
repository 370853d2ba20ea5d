package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.route.RouteStatus;
import stillwatch.rules.book.Priority;
import stillwatch.rules.capacity.Loss;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.leaving.HoursNeeded;
import stillwatch.rules.leaving.LeavingWords;
import stillwatch.rules.plan.Flows;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.RoutePlan;
import stillwatch.rules.plan.TestPlan;

/**
 * What speaks for and against leaving the well shut unattended, side by side. It weighs nothing
 * against anything: people decide.
 */
final class LeavingTable {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int LOOKED_AT = 400;

  /** What a row says to the question. */
  private enum Says {
    YES,
    NO,
    NOTHING,
    MISSING
  }

  private final RoomParts parts;
  private final Plan plan;
  private final List<DeskAlarm> open;
  private final Optional<HoursNeeded> hours;
  private final ArrayNode rows = JSON.createArrayNode();

  LeavingTable(RoomParts parts) {
    this.parts = parts;
    plan = parts.plan();
    open = parts.board().open(LOOKED_AT);
    long nowMs = parts.picture().logMs();
    hours =
        parts
            .picture()
            .forecast()
            .filter(f -> f.toMs() > nowMs)
            .map(f -> HoursNeeded.of(nowMs, f, parts.picture().testEndMs(), plan.reopening()));
  }

  /** All rows; {@code evidence} is the table of what each sense says. */
  ArrayNode rows(ArrayNode evidence) {
    well(evidence);
    alarms();
    if (hours.isPresent()) {
      weather(hours.get());
    } else {
      row(
          "weather",
          Says.MISSING,
          "No weather is forecast from now on; enter the newest forecast.");
    }
    digest();
    boolean told = plan.heartbeat() != null;
    row(
        "check outside",
        told ? Says.YES : Says.NO,
        told
            ? "The watch gives a sign of life to a check outside, which notices when it is gone."
            : "The plan gives no sign of life to anybody: add 'heartbeat' under 'routes'.");
    return rows;
  }

  private void row(String about, Says says, String text) {
    rows.addObject()
        .put("about", about)
        .put("answer", says.name().toLowerCase(Locale.ROOT))
        .put("says", text);
  }

  private void well(ArrayNode evidence) {
    long intact = count(evidence, "intact");
    long leak = count(evidence, "leak");
    long missing = count(evidence, "missing");
    row(
        "well",
        leak > 0 ? Says.NO : missing > 0 ? Says.MISSING : intact > 0 ? Says.YES : Says.NOTHING,
        "Rows of the evidence for the hold point: intact %d, leak %d, missing %d."
            .formatted(intact, leak, missing));
  }

  private static long count(ArrayNode evidence, String supports) {
    long count = 0;
    for (JsonNode row : evidence) {
      count += row.path("supports").asText().equals(supports) ? 1 : 0;
    }
    return count;
  }

  private void alarms() {
    List<DeskAlarm> active = open.stream().filter(a -> a.standing().lasts()).toList();
    long high = active.stream().filter(a -> a.finding().priority() == Priority.HIGH).count();
    long asking = open.stream().filter(a -> a.state().asks()).count();
    row(
        "alarms",
        high > 0 ? Says.NO : Says.NOTHING,
        "Active: %d, of high priority %d. Unacknowledged: %d."
            .formatted(active.size(), high, asking));
  }

  private void weather(HoursNeeded h) {
    row("weather", Says.NOTHING, sentence(LeavingWords.of(h.forecast())));
    row("window", Says.NOTHING, window(h));
    if (h.units().isEmpty()) {
      row("collection", Says.MISSING, "The plan says nothing of a reopening.");
    } else {
      row("collection", Says.NOTHING, collection(h));
    }
    List<Long> holdPoints =
        h.holdPoints(parts.picture().holdPointMs(), plan.test().holdPointEvery());
    row(
        "hold points",
        Says.NOTHING,
        holdPoints.isEmpty()
            ? "None falls into it."
            : "%d fall into it, to be decided from shore: %s."
                .formatted(
                    holdPoints.size(),
                    holdPoints.stream()
                        .map(LeavingWords::minute)
                        .collect(Collectors.joining(", "))));
    passes(h);
  }

  private static String sentence(String clause) {
    return Character.toUpperCase(clause.charAt(0)) + clause.substring(1) + ".";
  }

  private static String window(HoursNeeded h) {
    StringBuilder says = new StringBuilder();
    says.append("Until the weather: ").append(LeavingWords.hours(h.window())).append(". ");
    says.append(
        h.test().map(t -> "The test still runs " + LeavingWords.hours(t)).orElse("No test runs"));
    h.slowest()
        .ifPresent(
            u ->
                says.append("; to connect every unit takes ")
                    .append(LeavingWords.hours(u.timeToConnect()))
                    .append(" (")
                    .append(u.name())
                    .append(", the slowest)"));
    says.append(". ");
    if (h.needed().isPresent() && h.spare().isPresent()) {
      Duration spare = h.spare().get();
      says.append("Needed: ").append(LeavingWords.hours(h.needed().get())).append(", ");
      says.append(LeavingWords.hours(spare));
      says.append(spare.isNegative() ? " MORE than there is." : " less than there is.");
    }
    h.connectByMs()
        .ifPresent(
            ms ->
                says.append(
                    ms >= h.nowMs()
                        ? " To collect with all before the weather, begin by "
                            + LeavingWords.minute(ms)
                            + "."
                        : " It is too late to collect with all before the weather: that was to begin by "
                            + LeavingWords.minute(ms)
                            + "."));
    return says.toString();
  }

  private String collection(HoursNeeded h) {
    Set<String> leaving =
        h.units().stream()
            .filter(u -> u.backAfterWeather().isPresent())
            .map(Reopening.CollectionUnit::name)
            .collect(Collectors.toSet());
    Loss left = Loss.ofLost(plan.reopening().orElseThrow(), leaving);
    Flows flows = Flows.of(plan);
    String during =
        left.high() > 0
            ? "What stays in the weather could take %s to %s %s of a reopened well's flow."
                .formatted(flows.plain(left.low()), flows.plain(left.high()), flows.sign())
            : "No unit stays in the weather: what a reopened well lets out would not be collected.";
    String back =
        h.units().stream()
            .flatMap(u -> h.backMs(u).stream().map(ms -> u.name() + " " + LeavingWords.minute(ms)))
            .collect(Collectors.joining(", "));
    return during + (back.isEmpty() ? "" : " Units collect again from: " + back + ".");
  }

  private void passes(HoursNeeded h) {
    Duration away = Duration.ofMillis(h.allBackMs() - h.forecast().fromMs());
    List<String> lost = new ArrayList<>();
    for (TestPlan.Pass pass : plan.test().passes()) {
      lost.add(pass.means() + " " + away.dividedBy(pass.every()));
    }
    row(
        "passes",
        lost.isEmpty() ? Says.NOTHING : Says.MISSING,
        lost.isEmpty()
            ? "The plan asks for no passes."
            : "Passes that nobody makes until every unit is back: "
                + String.join(", ", lost)
                + ".");
  }

  private void digest() {
    List<String> routes =
        plan.routes().stream().filter(r -> r.digest() != null).map(RoutePlan::name).toList();
    if (routes.isEmpty()) {
      row(
          "digest",
          Says.NO,
          "No route of the plan sends a digest: nobody ashore would hear the watch. Add 'digest' to a route.");
      return;
    }
    List<String> failing =
        parts.routes().get().stream()
            .filter(r -> routes.contains(r.name()) && r.failing())
            .map(RouteStatus::name)
            .toList();
    row(
        "digest",
        failing.isEmpty() ? Says.YES : Says.NO,
        failing.isEmpty()
            ? "It goes out by " + String.join(", ", routes) + "."
            : "It does not get out by " + String.join(", ", failing) + ".");
  }
}

package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.series.CycleTable;
import stillwatch.alerts.series.WellPicture;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.closing.Cycle;
import stillwatch.rules.closing.Departure;
import stillwatch.rules.closing.Opening;
import stillwatch.rules.closing.StepTaken;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.ClosingStep;
import stillwatch.rules.ready.Standing;

/**
 * The test from its readiness to its end as JSON, in the plan's display units. Safe from any
 * thread.
 */
final class TestJson {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final RoomParts parts;
  private final DisplayUnits units;
  private final CycleTable table;

  TestJson(RoomParts parts, DisplayUnits units) {
    this.parts = parts;
    this.units = units;
    table = new CycleTable(parts.plan());
  }

  /** What is open before the first step, and what was decided. */
  ObjectNode readiness() {
    WellPicture picture = parts.picture();
    ObjectNode n = head();
    picture.closingBegunMs().ifPresent(ms -> n.put("begun", time(ms)));
    ArrayNode conditions = n.putArray("conditions");
    List<Finding> findings =
        parts.board().newest(Integer.MAX_VALUE).stream().map(DeskAlarm::finding).toList();
    for (Standing s : picture.readiness(findings)) {
      conditions
          .addObject()
          .put("name", s.condition().name())
          .put("condition", s.condition().text())
          .put("owner", s.condition().owner())
          .put("known_by", s.condition().knownBy().wire())
          .put("met", s.met())
          .put("why", s.why());
    }
    picture.strayTicks().forEach(n.putArray("stray")::add);
    picture.goDecided().ifPresent(d -> decision(n.putObject("decided"), d));
    return n;
  }

  /**
   * The closing against the plan's list: the newest cycle, or what is to come; and the newest
   * opening alike.
   */
  ObjectNode closing() {
    ObjectNode n = head();
    n.put("unit", units.unit(Kind.PRESSURE));
    List<Cycle> cycles = parts.picture().cycles();
    Optional<Cycle> now =
        cycles.isEmpty() ? Optional.empty() : Optional.of(cycles.get(cycles.size() - 1));
    n.put("cycle", now.map(Cycle::number).orElse(0));
    n.put("next_changes", parts.picture().nextCycleChanges());
    ArrayNode list = n.putArray("list");
    parts.plan().closing().forEach(s -> planned(list.addObject(), s));
    ArrayNode steps = n.putArray("steps");
    ArrayNode departures = n.putArray("departures");
    ArrayNode rock = n.putArray("rock");
    now.ifPresent(
        c -> {
          parts.picture().rock(c.number()).forEach(r -> rock.add(r.text()));
          cycle(n, c);
          c.steps().forEach(s -> step(steps.addObject(), s));
          c.departures().forEach(d -> departure(departures.addObject(), d));
        });
    if (now.isEmpty() && !parts.plan().closing().isEmpty()) {
      n.put("next", parts.plan().closing().get(0).name());
    }
    opening(n.putObject("opening"));
    return n;
  }

  private void opening(ObjectNode n) {
    List<Opening> openings = parts.picture().openings();
    List<ClosingStep> listed = parts.plan().opening();
    n.put("number", openings.size());
    ArrayNode list = n.putArray("list");
    listed.forEach(s -> planned(list.addObject(), s));
    ArrayNode steps = n.putArray("steps");
    ArrayNode departures = n.putArray("departures");
    if (openings.isEmpty()) {
      listed.stream().findFirst().ifPresent(s -> n.put("next", s.name()));
      return;
    }
    Opening now = openings.get(openings.size() - 1);
    n.put("begun", time(now.begunMs()));
    now.overMs().ifPresent(ms -> n.put("over", time(ms)));
    coming(n, now.next(), now.heldMs());
    now.steps().forEach(s -> step(steps.addObject(), s));
    now.departures().forEach(d -> departure(departures.addObject(), d));
  }

  /** The step that is next, and how long the last one is still to be held. */
  private void coming(ObjectNode n, Optional<ClosingStep> next, Optional<Long> heldMs) {
    next.ifPresent(s -> n.put("next", s.name()));
    heldMs.ifPresent(ms -> n.put("held", time(ms)).put("held_s", (ms - logMs()) / 1000.0));
  }

  private static void departure(ObjectNode n, Departure d) {
    n.put("kind", d.kind().wire()).put("at", time(d.atMs())).put("why", d.why());
  }

  private void cycle(ObjectNode n, Cycle c) {
    n.put("changes", c.changes()).put("begun", time(c.begunMs()));
    c.shutInMs().ifPresent(ms -> n.put("shut_in", time(ms)));
    c.overMs().ifPresent(ms -> n.put("over", time(ms)));
    coming(n, c.next(), c.heldMs());
    c.go().ifPresent(d -> decision(n.putObject("go"), d));
  }

  private void planned(ObjectNode n, ClosingStep s) {
    n.put("name", s.name())
        .put("outlet", s.outlet())
        .put("leaves", s.leaves())
        .put("hold_s", s.hold().toSeconds())
        .put("expected", table.expected(s));
  }

  private void step(ObjectNode n, StepTaken s) {
    n.put("text", s.text()).put("at", time(s.atMs())).put("undone", s.undone());
    s.planned().ifPresent(p -> n.put("planned", p.name()));
    n.put("readings", table.readings(s)).put("answer", s.answer().words());
    n.put("departs", !s.departures().isEmpty());
    s.departures().forEach(d -> n.withArray("departures").add(d.why()));
  }

  /** The whole evidence at the end of the test, and the cycles side by side. */
  ObjectNode end(ObjectNode evidence) {
    ObjectNode n = head();
    WellPicture picture = parts.picture();
    picture.shutInMs().ifPresent(ms -> n.put("shut_in", time(ms)));
    picture
        .testEndMs()
        .ifPresent(ms -> n.put("test_end", time(ms)).put("test_end_s", (ms - logMs()) / 1000.0));
    n.put("ended", picture.ended());
    n.put("length_s", parts.plan().test().length().toSeconds());
    n.set("rows", evidence.path("rows"));
    n.set("costs", evidence.path("costs"));
    n.put("cautions", parts.cautions());
    parts
        .review()
        .words()
        .ifPresent(
            r ->
                n.put("leads", r.path("leads").asText())
                    .put("leads_at", r.path("at").asText())
                    .put("leads_over", parts.reviewOfThisShutIn().isEmpty()));
    List<Cycle> cycles = picture.cycles();
    ArrayNode told = n.putArray("cycles");
    for (Cycle c : cycles) {
      cycle(told.addObject().put("number", c.number()).put("departures", c.departures().size()), c);
    }
    ArrayNode heads = n.putArray("compare_heads");
    table.heads(cycles).forEach(heads::add);
    ArrayNode rows = n.putArray("compare");
    table.rows(cycles).forEach(row -> row.forEach(rows.addArray()::add));
    n.put("balance", picture.balance());
    ArrayNode units = n.putArray("units");
    picture
        .units()
        .forEach(
            u ->
                units
                    .addObject()
                    .put("name", u.name())
                    .put("lost", u.lost())
                    .put("at", time(u.atMs()))
                    .put("by", u.by())
                    .put("text", u.text()));
    return n;
  }

  private ObjectNode head() {
    return JSON.createObjectNode().put("log", time(logMs()));
  }

  private long logMs() {
    return parts.picture().logMs();
  }

  private static void decision(ObjectNode n, Decision d) {
    n.put("choice", d.choice().wire()).put("by", d.by()).put("why", d.why());
    n.put("at", time(d.atMs()));
  }

  private static String time(long ms) {
    return Instant.ofEpochMilli(ms).toString();
  }
}

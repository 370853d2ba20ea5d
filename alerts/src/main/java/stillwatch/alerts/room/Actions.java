package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.function.BiFunction;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.people.Person;
import stillwatch.alerts.people.Role;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.rules.plan.GaugePlan;

/** What people do in the room; everything carries their name into the record. */
final class Actions {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int TEXT = 5000;
  private static final int DAY_MINUTES = 1440;
  private static final long MINUTE_MS = 60_000;

  private final RoomParts parts;
  private final Pictured pictured;
  private final Guard guard;
  private final ApiDocument document;
  private final Clock clock;

  Actions(RoomParts parts, Pictured pictured, Guard guard, ApiDocument document, Clock clock) {
    this.document = document;
    this.parts = parts;
    this.pictured = pictured;
    this.guard = guard;
    this.clock = clock;
  }

  /** Something somebody does. */
  private interface Doing {
    ObjectNode by(Person person, Asked asked, Context c);
  }

  private void post(
      RoutesConfig routes, String path, Role role, String summary, Doing doing, String... fields) {
    document.add("post", path, role, summary, fields);
    routes.post(
        path,
        c -> {
          Person person = guard.acts(c, role);
          Answers.json(c, doing.by(person, Asked.of(c), c));
        });
  }

  void on(RoutesConfig routes) {
    String alarm = "/api/alarms/{id}/";
    post(
        routes,
        alarm + "acknowledge",
        Role.OPERATE,
        "Acknowledges an alarm.",
        this::acknowledge,
        "note:string?");
    post(
        routes,
        alarm + "reset",
        Role.OPERATE,
        "Resets an alarm that latched.",
        (p, a, c) -> pictured.alarm(parts.board().reset(id(c), p.name()), false));
    post(
        routes,
        alarm + "shelve",
        Role.OPERATE,
        "Puts an alarm's point aside for a time.",
        this::shelve,
        "minutes:integer",
        "reason:string");
    post(
        routes,
        alarm + "remove",
        Role.ADMINISTER,
        "Takes an alarm's point out of service.",
        (p, a, c) -> pictured.hold(parts.board().remove(id(c), p.name(), a.needed("reason", TEXT))),
        "reason:string");
    post(
        routes,
        alarm + "note",
        Role.OPERATE,
        "Adds a note about an alarm to the record.",
        (p, a, c) -> note(p, a, id(c)),
        "text:string");
    post(
        routes,
        "/api/notes",
        Role.OPERATE,
        "Adds a note to the record.",
        (p, a, c) -> note(p, a, ""),
        "text:string");
    post(
        routes,
        "/api/holds/restore",
        Role.OPERATE,
        "Ends what holds a point back.",
        this::restore,
        "point:string");
    post(
        routes,
        "/api/operations",
        Role.OPERATE,
        "Enters what was done to the well.",
        this::operation,
        "what:string",
        "gauge:string?",
        "text:string",
        "at:string?");
    post(
        routes,
        "/api/observations",
        Role.OPERATE,
        "Enters what somebody saw.",
        this::observation,
        "means:string",
        "result:string",
        "text:string?",
        "at:string?");
    post(
        routes,
        "/api/decisions",
        Role.OPERATE,
        "Logs a decision, with the evidence as it stands.",
        this::decision,
        "choice:string",
        "by:string",
        "why:string",
        "next_review:string?");
    post(
        routes,
        "/api/handover",
        Role.OPERATE,
        "Hands the shift over.",
        this::handover,
        "to:string",
        "text:string?");
  }

  private static String id(Context c) {
    return c.pathParam("id");
  }

  private ObjectNode acknowledge(Person person, Asked asked, Context c) {
    return pictured.alarm(
        parts.board().acknowledge(id(c), person.name(), asked.text("note", TEXT)), false);
  }

  private ObjectNode shelve(Person person, Asked asked, Context c) {
    Duration time = Duration.ofMinutes(asked.whole("minutes", 1, 7 * DAY_MINUTES));
    return pictured.hold(
        parts.board().shelve(id(c), time, person.name(), asked.needed("reason", TEXT)));
  }

  private ObjectNode restore(Person person, Asked asked, Context c) {
    String point = asked.needed("point", 1000);
    boolean removed =
        parts.board().holds().stream()
            .anyMatch(h -> h.point().equals(point) && h.untilMs() == null);
    if (removed) {
      Person unused = guard.may(c, Role.ADMINISTER);
    }
    parts.board().restore(point, person.name());
    return JSON.createObjectNode().put("restored", point);
  }

  private ObjectNode note(Person person, Asked asked, String id) {
    parts.board().note(id, person.name(), asked.needed("text", TEXT));
    return JSON.createObjectNode().put("noted", true);
  }

  /** When it was: as said, or now; not in the future, not before the log. */
  private long at(Asked asked) {
    long nowMs = parts.pen().nowMs();
    long atMs = asked.time("at").orElse(nowMs);
    if (atMs > nowMs + MINUTE_MS) {
      throw new Refused(400, "'at' lies in the future of the log, which is at " + time(nowMs));
    }
    return atMs;
  }

  private static String time(long ms) {
    return Instant.ofEpochMilli(ms).toString();
  }

  private ObjectNode operation(Person person, Asked asked, Context c) {
    Operation.What what = asked.one("what", Operation.What.values(), Operation.What::wire);
    String text = asked.needed("text", TEXT);
    if (what == Operation.What.PHASE && !parts.plan().test().phases().contains(text)) {
      throw new Refused(
          400, "the plan's phases are " + String.join(", ", parts.plan().test().phases()));
    }
    String gauge = gauge(asked, what);
    long atMs = at(asked);
    ObjectNode said =
        JSON.createObjectNode().put("what", what.wire()).put("text", text).put("at", time(atMs));
    if (!gauge.isEmpty()) {
      said.put("gauge", gauge);
    }
    return enter(
        person,
        "operation",
        said,
        (well, nowMs) -> new Operation(well, atMs, nowMs, what, gauge, text, person.name()));
  }

  /** The gauge that was worked on; empty for what is no gauge work. */
  private String gauge(Asked asked, Operation.What what) {
    String gauge = asked.text("gauge", TEXT);
    if (!what.gaugeWork()) {
      if (!gauge.isEmpty()) {
        throw new Refused(400, "'gauge' is for work on a gauge only; leave it out");
      }
      return "";
    }
    List<String> known = parts.plan().gauges().stream().map(GaugePlan::id).toList();
    if (!known.contains(gauge)) {
      throw new Refused(
          400, "'gauge' must name the gauge that was worked on: " + String.join(", ", known));
    }
    return gauge;
  }

  private ObjectNode observation(Person person, Asked asked, Context c) {
    Observation.Result result =
        asked.one("result", Observation.Result.values(), Observation.Result::wire);
    String means = asked.needed("means", 100);
    String text = asked.text("text", TEXT);
    long atMs = at(asked);
    ObjectNode said =
        JSON.createObjectNode()
            .put("means", means)
            .put("result", result.wire())
            .put("text", text)
            .put("at", time(atMs));
    return enter(
        person,
        "observation",
        said,
        (well, nowMs) -> new Observation(well, atMs, nowMs, means, result, text, person.name()));
  }

  /** A decision, with what lay on the table. */
  private ObjectNode decision(Person person, Asked asked, Context c) {
    Decision.Choice choice = asked.one("choice", Decision.Choice.values(), Decision.Choice::wire);
    String by = asked.needed("by", 500);
    String why = asked.needed("why", TEXT);
    long nowMs = parts.pen().nowMs();
    long reviewMs = asked.time("next_review").orElse(0L);
    if (reviewMs != 0 && reviewMs <= nowMs) {
      throw new Refused(
          400, "'next_review' must lie in the future of the log, which is at " + time(nowMs));
    }
    ObjectNode said =
        JSON.createObjectNode()
            .put("choice", choice.wire())
            .put("by", by)
            .put("why", why)
            .put("at", time(nowMs));
    if (reviewMs > 0) {
      said.put("next_review", time(reviewMs));
    }
    said.set("evidence", pictured.evidence());
    return enter(
        person,
        "decision",
        said,
        (well, at) -> new Decision(well, at, at, choice, by, why, reviewMs));
  }

  private interface Making
      extends BiFunction<String, Long, stillwatch.ingest.telemetry.Telemetry> {}

  /** Into the log, then into the record. */
  private ObjectNode enter(Person person, String what, ObjectNode said, Making making) {
    long nowMs = parts.pen().nowMs();
    parts.pen().write(making.apply(parts.plan().well(), nowMs));
    Entry entry = record(person, what, "", said.toString());
    return said.put("entry", entry.seq());
  }

  private Entry record(Person person, String what, String subject, String body) {
    return parts
        .journal()
        .write(
            r -> r.enter(clock.millis(), parts.plan().well(), what, subject, person.name(), body));
  }

  private ObjectNode handover(Person person, Asked asked, Context c) {
    String to = asked.needed("to", 500);
    ObjectNode said =
        JSON.createObjectNode()
            .put("to", to)
            .put("text", asked.text("text", TEXT))
            .put("log", time(parts.pen().nowMs()));
    Entry entry = record(person, "handover", to, said.toString());
    parts.shift().renew();
    return said.put("entry", entry.seq());
  }
}

package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.time.Instant;
import java.util.List;
import java.util.function.BiFunction;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.people.Person;
import stillwatch.alerts.people.Role;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.plan.GaugePlan;

/** What people enter into the well's log, where the rules follow it, and so into the record. */
final class LogActions {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int TEXT = 5000;
  private static final long MINUTE_MS = 60_000;

  private final RoomParts parts;
  private final RoomJson json;
  private final RecordPen record;

  LogActions(RoomParts parts, RoomJson json, RecordPen record) {
    this.parts = parts;
    this.json = json;
    this.record = record;
  }

  void on(Posts posts) {
    posts.add(
        "/api/operations",
        Role.OPERATE,
        "Enters what was done to the well.",
        this::operation,
        "what:string",
        "gauge:string?",
        "text:string",
        "at:string?");
    posts.add(
        "/api/observations",
        Role.OPERATE,
        "Enters what somebody saw.",
        this::observation,
        "means:string",
        "result:string",
        "text:string?",
        "at:string?");
    posts.add(
        "/api/decisions",
        Role.OPERATE,
        "Logs a decision, with the evidence as it stands.",
        this::decision,
        "choice:string",
        "by:string",
        "why:string",
        "next_review:string?",
        "changes:string?");
    posts.add(
        "/api/explanations",
        Role.OPERATE,
        "Explains a change of the well by whoever is signed in.",
        this::explanation,
        "change:string",
        "cause:string",
        "why:string");
  }

  /** When it was: as said, or now; not in the future, not before the log. */
  private long at(RequestBody asked) {
    long nowMs = parts.pen().nowMs();
    long atMs = asked.time("at").orElse(nowMs);
    if (atMs > nowMs + MINUTE_MS) {
      throw new RequestException(
          400, "'at' lies in the future of the log, which is at " + time(nowMs));
    }
    return atMs;
  }

  private static String time(long ms) {
    return Instant.ofEpochMilli(ms).toString();
  }

  private ObjectNode operation(Person person, RequestBody asked, Context c) {
    Operation.What what = asked.one("what", Operation.What.values(), Operation.What::wire);
    String text = asked.needed("text", TEXT);
    if (what == Operation.What.PHASE && !parts.plan().test().phases().contains(text)) {
      throw new RequestException(
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
  private String gauge(RequestBody asked, Operation.What what) {
    String gauge = asked.text("gauge", TEXT);
    if (!what.gaugeWork()) {
      if (!gauge.isEmpty()) {
        throw new RequestException(400, "'gauge' is for work on a gauge only; leave it out");
      }
      return "";
    }
    List<String> known = parts.plan().gauges().stream().map(GaugePlan::id).toList();
    if (!known.contains(gauge)) {
      throw new RequestException(
          400, "'gauge' must name the gauge that was worked on: " + String.join(", ", known));
    }
    return gauge;
  }

  private ObjectNode observation(Person person, RequestBody asked, Context c) {
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
  private ObjectNode decision(Person person, RequestBody asked, Context c) {
    Decision.Choice choice = asked.one("choice", Decision.Choice.values(), Decision.Choice::wire);
    String by = asked.needed("by", 500);
    String why = asked.needed("why", TEXT);
    String changes = changes(asked, choice);
    long nowMs = parts.pen().nowMs();
    long reviewMs = asked.time("next_review").orElse(0L);
    if (reviewMs != 0 && reviewMs <= nowMs) {
      throw new RequestException(
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
    if (!changes.isEmpty()) {
      said.put("changes", changes);
    }
    if (choice == Decision.Choice.GO || choice == Decision.Choice.NO_GO) {
      said.set("readiness", json.test().readiness().path("conditions"));
    }
    said.set("evidence", json.evidence());
    return enter(
        person,
        "decision",
        said,
        (well, at) -> new Decision(well, at, at, choice, by, why, reviewMs, changes));
  }

  /** What another cycle does otherwise; empty for every other choice. */
  private static String changes(RequestBody asked, Decision.Choice choice) {
    if (choice == Decision.Choice.CYCLE) {
      return asked.needed("changes", TEXT);
    }
    if (!asked.text("changes", TEXT).isEmpty()) {
      throw new RequestException(400, "'changes' is for another cycle only; leave it out");
    }
    return "";
  }

  private ObjectNode explanation(Person person, RequestBody asked, Context c) {
    String change = asked.needed("change", 100);
    Explanation.Cause cause =
        asked.one("cause", Explanation.Cause.values(), Explanation.Cause::wire);
    String why = asked.needed("why", TEXT);
    long nowMs = parts.pen().nowMs();
    ObjectNode said =
        JSON.createObjectNode()
            .put("change", change)
            .put("cause", cause.wire())
            .put("why", why)
            .put("at", time(nowMs));
    return enter(
        person,
        "explanation",
        said,
        (well, at) -> new Explanation(well, at, at, change, cause, why, person.name()));
  }

  private interface TelemetryMaker extends BiFunction<String, Long, Telemetry> {}

  /** Into the log, then into the record. */
  private ObjectNode enter(Person person, String what, ObjectNode said, TelemetryMaker making) {
    long nowMs = parts.pen().nowMs();
    parts.pen().write(making.apply(parts.plan().well(), nowMs));
    Entry entry = record.write(person, what, "", said.toString());
    return said.put("entry", entry.seq());
  }
}

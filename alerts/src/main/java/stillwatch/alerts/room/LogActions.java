package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.BiFunction;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.people.Person;
import stillwatch.alerts.people.Role;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;
import stillwatch.ingest.telemetry.WeatherForecast.Certainty;
import stillwatch.rules.leaving.LeavingWords;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.survey.SeabedWords;

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
    seabed(posts);
    leaving(posts);
  }

  private void seabed(Posts posts) {
    posts.add(
        "/api/survey",
        Role.OPERATE,
        "Enters what a pass over the seabed saw of one thing, or that it saw none.",
        this::survey,
        "means:string",
        "pass:string",
        "what:string",
        "name:string?",
        "kind:string?",
        "east:string?",
        "north:string?",
        "size:string?",
        "uncertainty:string?",
        "text:string?",
        "at:string?");
  }

  private void leaving(Posts posts) {
    posts.add(
        "/api/attendance",
        Role.OPERATE,
        "Says who watches the well from here on, and from where.",
        this::attendance,
        "from:string",
        "by:string",
        "links:string?",
        "at:string?");
    posts.add(
        "/api/weather",
        Role.OPERATE,
        "Enters weather that units or people must leave for.",
        this::weather,
        "certainty:string",
        "from:string",
        "to:string",
        "by:string",
        "text:string?");
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

  private ObjectNode survey(Person person, RequestBody asked, Context c) {
    SurveyItem.What what = asked.one("what", SurveyItem.What.values(), SurveyItem.What::wire);
    String means = asked.needed("means", 100);
    String pass = asked.needed("pass", 100);
    String name = asked.text("name", 100);
    String kind = asked.text("kind", 100);
    double east = metres(asked, "east");
    double north = metres(asked, "north");
    double size = metres(asked, "size");
    double uncertainty = metres(asked, "uncertainty");
    String text = asked.text("text", TEXT);
    long atMs = at(asked);
    ObjectNode said = JSON.createObjectNode().put("survey", what.wire()).put("at", time(atMs));
    return enter(
        person,
        "survey",
        said,
        (well, nowMs) -> {
          Optional<SurveyItem.Shape> shape =
              what == SurveyItem.What.SEEN
                  ? Optional.of(new SurveyItem.Shape(kind, east, north, size, uncertainty))
                  : Optional.empty();
          SurveyItem item =
              new SurveyItem(
                  well, atMs, nowMs, means, pass, what, name, shape, text, person.name());
          said.put("words", SeabedWords.of(item));
          return item;
        });
  }

  /** A number of metres; NaN where it is left out. */
  private static double metres(RequestBody asked, String name) {
    String text = asked.text(name, 30);
    try {
      return text.isEmpty() ? Double.NaN : Double.parseDouble(text);
    } catch (NumberFormatException e) {
      throw new RequestException(400, "'" + name + "' must be a number of metres like 12.5");
    }
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
    ObjectNode evidence = json.evidence();
    said.set("evidence", evidence);
    boolean reopen = choice == Decision.Choice.REOPEN && parts.picture().forecast().isPresent();
    if (choice == Decision.Choice.LEAVE || choice == Decision.Choice.STAY || reopen) {
      said.set("leaving", json.leaving().rows(evidence.withArray("rows")));
    }
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

  private ObjectNode attendance(Person person, RequestBody asked, Context c) {
    Attendance.From from = asked.one("from", Attendance.From.values(), Attendance.From::wire);
    String by = asked.needed("by", 500);
    String links = asked.text("links", 500);
    long atMs = at(asked);
    ObjectNode said =
        JSON.createObjectNode()
            .put("from", from.wire())
            .put("by", by)
            .put("links", links)
            .put("at", time(atMs));
    return enter(
        person,
        "attendance",
        said,
        (well, nowMs) -> {
          Attendance attendance = new Attendance(well, atMs, nowMs, from, by, links);
          said.put("words", LeavingWords.of(attendance));
          return attendance;
        });
  }

  private ObjectNode weather(Person person, RequestBody asked, Context c) {
    Certainty certainty = asked.one("certainty", Certainty.values(), Certainty::wire);
    long fromMs = moment(asked, "from");
    long toMs = moment(asked, "to");
    String by = asked.needed("by", 500);
    String text = asked.text("text", TEXT);
    ObjectNode said =
        JSON.createObjectNode()
            .put("certainty", certainty.wire())
            .put("from", time(fromMs))
            .put("to", time(toMs))
            .put("by", by)
            .put("text", text)
            .put("at", time(parts.pen().nowMs()));
    return enter(
        person,
        "weather",
        said,
        (well, at) -> {
          WeatherForecast forecast =
              new WeatherForecast(well, at, at, certainty, fromMs, toMs, by, text);
          said.put("words", LeavingWords.of(forecast));
          return forecast;
        });
  }

  private static long moment(RequestBody asked, String name) {
    return asked
        .time(name)
        .orElseThrow(
            () ->
                new RequestException(
                    400, "'" + name + "' is missing: write a time like 2026-03-08T12:00:00Z"));
  }

  private interface TelemetryMaker extends BiFunction<String, Long, Telemetry> {}

  /** Into the log, then into the record. */
  private ObjectNode enter(Person person, String what, ObjectNode said, TelemetryMaker making) {
    long nowMs = parts.pen().nowMs();
    Telemetry made;
    try {
      made = making.apply(parts.plan().well(), nowMs);
    } catch (IllegalArgumentException e) {
      throw new RequestException(400, String.valueOf(e.getMessage()));
    }
    parts.pen().write(made);
    Entry entry = record.write(person, what, "", said.toString());
    return said.put("entry", entry.seq());
  }
}

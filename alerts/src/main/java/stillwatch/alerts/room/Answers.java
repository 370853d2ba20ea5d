package stillwatch.alerts.room;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.Handler;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.NoSuchElementException;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.desk.JournalCheck;
import stillwatch.alerts.people.Person;
import stillwatch.alerts.people.Role;
import stillwatch.alerts.report.Report;
import stillwatch.alerts.report.ReportParts;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.Sender;
import stillwatch.ingest.intake.Senders;

/** What the room answers to those who look. */
final class Answers {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int COLUMNS_AT_MOST = 4000;

  private final RoomParts parts;
  private final RoomJson json;
  private final Guard guard;
  private final ApiDocument document;

  Answers(RoomParts parts, RoomJson json, Guard guard, ApiDocument document) {
    this.document = document;
    this.parts = parts;
    this.json = json;
    this.guard = guard;
  }

  void on(RoutesConfig routes) {
    well(routes);
    test(routes);
    people(routes);
    programs(routes);
  }

  /** How the well and its watch are. */
  private void well(RoutesConfig routes) {
    get(
        routes,
        "/api/fixed",
        Role.LOOK,
        "What never changes while the watch runs.",
        c -> json(c, json.fixed()));
    get(
        routes,
        "/api/state",
        Role.LOOK,
        "Everything a page shows, as of now; /api/events sends the same every second.",
        c -> json(c, json.state()));
    get(
        routes,
        "/api/series",
        Role.LOOK,
        "Lowest and highest values of gauges by columns of time: gauges, span_s, points.",
        this::series);
    get(
        routes,
        "/api/strips",
        Role.LOOK,
        "When each gauge stood under an alarm of its own: span_s.",
        c -> json(c, json.courses().strips(whole(c, "span_s", 0, Integer.MAX_VALUE) * 1000L)));
    get(
        routes,
        "/api/review",
        Role.LOOK,
        "The newest reading of the build-up, with its plots.",
        this::review);
    get(
        routes,
        "/api/evidence",
        Role.LOOK,
        "The evidence for a hold point, side by side.",
        c -> json(c, json.evidence()));
    get(
        routes,
        "/api/figures",
        Role.LOOK,
        "How the alarm system itself does.",
        c -> json(c, json.figures()));
  }

  /** The test from its readiness to its end. */
  private void test(RoutesConfig routes) {
    get(
        routes,
        "/api/readiness",
        Role.LOOK,
        "What is open before the first closure step, and what was decided.",
        c -> json(c, json.test().readiness()));
    get(
        routes,
        "/api/closing",
        Role.LOOK,
        "The newest closing and the newest opening against the plan's lists.",
        c -> json(c, json.test().closing()));
    get(
        routes,
        "/api/end",
        Role.LOOK,
        "The whole evidence at the end of the test, and its cycles side by side.",
        c -> json(c, json.test().end(json.evidence())));
    get(
        routes,
        "/api/seabed",
        Role.LOOK,
        "What passes over the seabed saw, compared with before the closing, with a plan view.",
        c -> json(c, json.seabed().sheet()));
    get(
        routes,
        "/api/leaving",
        Role.LOOK,
        "Weather and leaving: the hours still needed, who watches from shore, what happened meanwhile.",
        c -> json(c, json.leaving().sheet(json.senses())));
  }

  /** What people do about it, and its record. */
  private void people(RoutesConfig routes) {
    get(
        routes,
        "/api/shift",
        Role.LOOK,
        "Who is on shift and what happened since.",
        c -> json(c, shift()));
    get(
        routes,
        "/api/alarms/{id}",
        Role.LOOK,
        "An alarm with its evidence.",
        c -> json(c, json.alarms().one(find(c.pathParam("id")), true)));
    get(routes, "/api/report", Role.LOOK, "The report as it would be now, HTML.", this::report);
    get(
        routes,
        "/api/journal/check",
        Role.ADMINISTER,
        "Whether the journal is whole.",
        c -> json(c, check()));
  }

  /** What programs ask, and what they send. */
  private void programs(RoutesConfig routes) {
    document.add("get", "/health", null, "200 while the watch can see, else 503 and why.");
    document.add("get", "/metrics", null, "Metrics in the Prometheus text form.");
    routes.get("/api/openapi.json", c -> json(c, document.json()));
    routes.get("/api/asyncapi.json", Answers::topics);
    routes.get("/health", this::health);
    routes.get("/metrics", this::metrics);
    Reception reception = parts.reception();
    if (reception != null) {
      routes.post("/telemetry", c -> telemetry(c, reception));
      routes.get(
          "/telemetry/schema",
          c -> c.contentType("application/schema+json").result(Reception.schema()));
    }
  }

  private void metrics(Context c) {
    c.contentType("text/plain; version=0.0.4; charset=utf-8").result(parts.metrics().get());
  }

  private void get(RoutesConfig routes, String path, Role role, String summary, Handler answer) {
    document.add("get", path, role, summary);
    routes.get(
        path,
        c -> {
          Person unused = guard.may(c, role);
          answer.handle(c);
        });
  }

  private void series(Context c) {
    String gauges = c.queryParam("gauges");
    List<String> asked =
        gauges == null || gauges.isEmpty() ? List.of() : List.of(gauges.split(",", -1));
    json(
        c,
        json.courses()
            .series(
                asked,
                whole(c, "span_s", 0, Integer.MAX_VALUE) * 1000L,
                (int) whole(c, "points", 600, COLUMNS_AT_MOST)));
  }

  private static long whole(Context c, String name, long standard, long most) {
    String text = c.queryParam(name);
    if (text == null) {
      return standard;
    }
    if (!text.matches("[0-9]{1,10}")
        || Long.parseLong(text) > most
        || (standard > 0 && Long.parseLong(text) == 0)) {
      throw new RequestException(
          400, "'" + name + "' must be a whole number of at most " + most + ", not '" + text + "'");
    }
    return Long.parseLong(text);
  }

  private void review(Context c) {
    json(
        c,
        parts
            .review()
            .whole()
            .orElseThrow(() -> new NoSuchElementException("the build-up has not been read yet")));
  }

  private DeskAlarm find(String id) {
    return parts
        .board()
        .find(id)
        .orElseThrow(() -> new NoSuchElementException("there is no alarm '" + id + "'"));
  }

  private ObjectNode shift() {
    ObjectNode n = parts.shift().now();
    parts.shift().tell(n, parts.exercise());
    return n;
  }

  /** The report as it would be now; it needs its own style and nothing else. */
  private void report(Context c) {
    c.header("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'");
    c.contentType("text/html; charset=utf-8")
        .result(
            Report.of(
                ReportParts.now(
                    parts.plan(),
                    parts.picture(),
                    parts.board(),
                    parts.journal(),
                    parts.review().whole(),
                    parts.exercise(),
                    System.currentTimeMillis(),
                    parts.cautions())));
  }

  private ObjectNode check() {
    JournalCheck.Result result = JournalCheck.of(parts.journal(), null);
    return JSON.createObjectNode()
        .put("whole", result.fault() == null)
        .put("entries", result.entries())
        .put("hash", result.hash())
        .put("fault", result.fault());
  }

  private void telemetry(Context c, Reception reception) throws IOException {
    Reception.Answer answer = reception.take(c.bodyInputStream(), sender(c, reception.senders()));
    c.status(answer.status()).contentType("application/json").result(answer.json());
  }

  /**
   * Who sends telemetry: a machine of the file of tokens, or a person or machine that may feed;
   * what people did and saw wants one that may operate.
   */
  private Sender sender(Context c, Senders senders) {
    String authorization = Optional.ofNullable(c.header("Authorization")).orElse("");
    return senders
        .of(authorization, c.ip())
        .or(
            () ->
                guard
                    .asking(c)
                    .filter(p -> p.role().covers(Role.FEED))
                    .map(p -> new Sender(p.name(), p.role().covers(Role.OPERATE))))
        .or(() -> senders.nameless(authorization, c.ip()))
        .orElseThrow(() -> new RequestException(401, Senders.FAULT));
  }

  /** The topics, for programs on the broker. */
  private static void topics(Context c) throws IOException {
    try (InputStream in = Answers.class.getResourceAsStream("/stillwatch/room/asyncapi.json")) {
      if (in == null) {
        throw new IllegalStateException(
            "asyncapi.json is missing from the program; build it again");
      }
      c.contentType("application/json; charset=utf-8").result(in.readAllBytes());
    }
  }

  private void health(Context c) {
    List<String> blind = parts.watchdog().blind();
    ObjectNode n = JSON.createObjectNode().put("watching", blind.isEmpty());
    blind.forEach(n.putArray("blind")::add);
    SourcesJson.put(parts.sources().get(), n);
    c.status(blind.isEmpty() ? 200 : 503);
    json(c, n);
  }

  static void fault(Context c, int status, @Nullable String text) {
    c.status(status);
    json(c, JSON.createObjectNode().put("fault", text));
  }

  static void json(Context c, JsonNode n) {
    try {
      c.contentType("application/json; charset=utf-8").result(JSON.writeValueAsBytes(n));
    } catch (JsonProcessingException e) {
      throw new UncheckedIOException("cannot write JSON to memory", e);
    }
  }
}

package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import stillwatch.alerts.desk.AlarmFigures;
import stillwatch.alerts.desk.AlarmGroup;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.desk.Flood;
import stillwatch.alerts.desk.Hold;
import stillwatch.alerts.route.RouteStatus;
import stillwatch.alerts.series.Columns;
import stillwatch.alerts.series.LastWord;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.unit.Conversion;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.Units;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.watch.Move;
import stillwatch.rules.watch.Presence;

/** The room's answers as JSON, in the plan's display units. Safe from any thread. */
final class Pictured {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int RECENT = 30;
  private static final int LINES_AT_MOST = 60;
  private static final int GROUPED_AT_MOST = 400;
  private static final int LATELY = 500;

  private final RoomParts parts;

  Pictured(RoomParts parts) {
    this.parts = parts;
  }

  /** Everything a page needs every second. */
  ObjectNode state() {
    ObjectNode n = JSON.createObjectNode();
    n.put("well", parts.plan().well());
    n.put("name", parts.plan().name());
    n.put("plan", parts.plan().revision() + " " + parts.plan().fingerprint());
    n.put("mode", parts.mode().get()).put("exercise", parts.exercise());
    n.put("phase", parts.picture().phase());
    if (!parts.picture().refusedPhase().isEmpty()) {
      n.put("phase_refused", parts.picture().refusedPhase());
    }
    long logMs = parts.picture().logMs();
    if (logMs > 0) {
      n.put("log", Instant.ofEpochMilli(logMs).toString());
    }
    parts.picture().frameAgeMs().ifPresent(age -> n.put("age_s", age / 1000.0));
    ArrayNode blind = n.putArray("blind");
    parts.watchdog().blind().forEach(blind::add);
    n.put("watching", blind.isEmpty());
    operation(n);
    parts.review().words().ifPresent(r -> n.set("review", r));
    test(n, logMs);
    List<DeskAlarm> beside = parts.board().heldOrAgainstGauges(GROUPED_AT_MOST);
    gauges(n.putArray("gauges"), beside, logMs);
    alarms(n, parts.board().open(GROUPED_AT_MOST), beside);
    flood(n, logMs);
    n.set("shift", parts.shift().now());
    n.put("journal", parts.journal().head().hash().substring(0, 16));
    ArrayNode routes = n.putArray("routes");
    for (RouteStatus r : parts.routes().get()) {
      routes
          .addObject()
          .put("name", r.name())
          .put("waiting", r.waiting())
          .put("failing", r.failing())
          .put("fault", r.fault());
    }
    return n;
  }

  /** How far the test has come. */
  private void test(ObjectNode n, long logMs) {
    parts
        .picture()
        .shutInMs()
        .ifPresent(
            ms ->
                n.put("shut_in", Instant.ofEpochMilli(ms).toString())
                    .put("shut_in_s", (logMs - ms) / 1000.0));
    parts
        .picture()
        .holdPointMs()
        .ifPresent(
            ms ->
                n.put("hold_point", Instant.ofEpochMilli(ms).toString())
                    .put("hold_point_s", (ms - logMs) / 1000.0));
    parts
        .picture()
        .testEndMs()
        .ifPresent(
            ms ->
                n.put("test_end", Instant.ofEpochMilli(ms).toString())
                    .put("test_end_s", (ms - logMs) / 1000.0));
  }

  /**
   * What asks, each with what it explains behind it; what is held back; what is over. Of very many
   * the least urgent are counted, not told.
   */
  private void alarms(ObjectNode n, List<DeskAlarm> open, List<DeskAlarm> beside) {
    ArrayNode alarms = n.putArray("alarms");
    List<AlarmGroup> groups = AlarmGroup.of(open);
    long asking = parts.board().openCount();
    int told = 0;
    for (AlarmGroup g : groups) {
      if (alarms.size() < LINES_AT_MOST) {
        ObjectNode lead = alarm(g.lead(), false);
        ArrayNode behind = lead.putArray("behind");
        g.members().stream().limit(LINES_AT_MOST).forEach(a -> behind.add(alarm(a, false)));
        lead.put("behind_count", g.members().size());
        alarms.add(lead);
        told += 1 + g.members().size();
      }
    }
    n.put("more", asking - told);
    ArrayNode held = n.putArray("held");
    beside.stream()
        .filter(a -> a.state().held())
        .limit(LINES_AT_MOST)
        .forEach(a -> held.add(alarm(a, false)));
    ArrayNode holds = n.putArray("holds");
    parts.board().holds().forEach(h -> holds.add(hold(h)));
    ArrayNode over = n.putArray("over");
    parts.board().newestOver(RECENT).forEach(a -> over.add(alarm(a, false)));
  }

  private void flood(ObjectNode n, long logMs) {
    List<DeskAlarm> newest = parts.board().newest(LATELY);
    long nowMs = // also when alarms come and readings do not
        newest.isEmpty() ? logMs : Math.max(logMs, newest.get(0).finding().raisedMs());
    AlarmFigures figures =
        AlarmFigures.of(newest, parts.plan().desk(), nowMs - 6 * Flood.WINDOW_MS, nowMs);
    figures.floods().stream()
        .filter(f -> f.toMs() == null)
        .forEach(
            f ->
                n.putObject("flood")
                    .put("from", Instant.ofEpochMilli(f.fromMs()).toString())
                    .put("alarms", f.alarms())
                    .put("at_least", newest.size() == LATELY));
    figures.chattering().forEach(n.putArray("chattering")::add);
  }

  /** What is held back. */
  ObjectNode hold(Hold h) {
    ObjectNode n = JSON.createObjectNode();
    n.put("point", h.point()).put("how", h.how().wire()).put("by", h.by());
    n.put("reason", h.reason()).put("since", Instant.ofEpochMilli(h.sinceMs()).toString());
    Long until = h.untilMs();
    if (until != null) {
      n.put("until", Instant.ofEpochMilli(until).toString());
    }
    return n;
  }

  /** The evidence for a hold point. */
  ObjectNode evidence() {
    ObjectNode n = JSON.createObjectNode();
    long logMs = parts.picture().logMs();
    n.put("log", Instant.ofEpochMilli(logMs).toString());
    test(n, logMs);
    n.set("rows", new EvidenceTable(parts).rows());
    n.put("journal", parts.journal().head().hash());
    return n;
  }

  /** How the alarm system itself does. */
  ObjectNode figures() {
    AlarmFigures f =
        AlarmFigures.sinceFirst(
            parts.board().newest(Integer.MAX_VALUE), parts.plan().desk(), parts.picture().logMs());
    ObjectNode n = JSON.createObjectNode();
    n.put("hours", f.hours());
    n.put("alarms", f.alarms()).put("per_ten_minutes", f.perTenMinutes());
    n.put("most_in_ten_minutes", f.mostInTenMinutes()).put("busy_share", f.busyShare());
    n.put("floods", f.floods().size()).put("flood_share", f.floodShare()).put("stale", f.stale());
    f.chattering().forEach(n.putArray("chattering")::add);
    ObjectNode busiest = n.putObject("busiest");
    f.busiest().forEach(busiest::put);
    ObjectNode shares = n.putObject("shares");
    f.shares().forEach((p, share) -> shares.put(p.wire(), share));
    return n;
  }

  /** What was done and decided, the newest last. */
  private void operation(ObjectNode n) {
    List<Operation> all = parts.picture().operations();
    ArrayNode done = n.putArray("operations");
    all.stream()
        .skip(Math.max(0, all.size() - RECENT))
        .forEach(
            o ->
                done.addObject()
                    .put("at", Instant.ofEpochMilli(o.atMs()).toString())
                    .put("what", o.what().wire())
                    .put("text", o.text()));
    ArrayNode decisions = n.putArray("decisions");
    for (Decision d : parts.picture().decisions()) {
      decisions
          .addObject()
          .put("at", Instant.ofEpochMilli(d.atMs()).toString())
          .put("choice", d.choice().wire())
          .put("by", d.by())
          .put("why", d.why());
    }
    List<Move> moves = parts.picture().lastMoves();
    if (!moves.isEmpty()) {
      Move last = moves.get(moves.size() - 1);
      n.putObject("last_operation")
          .put("at", Instant.ofEpochMilli(last.atMs()).toString())
          .put("what", last.what().wire())
          .put("text", last.text());
    }
    ArrayNode near = n.putArray("near");
    for (Presence p : parts.picture().presence()) {
      near.addObject()
          .put("what", p.what().wire())
          .put("text", p.text())
          .put("from", Instant.ofEpochMilli(p.fromMs()).toString());
    }
  }

  private void gauges(ArrayNode into, List<DeskAlarm> open, long logMs) {
    for (GaugePlan g : parts.plan().gauges()) {
      ObjectNode n = into.addObject();
      n.put("id", g.id())
          .put("kind", g.kind().wire())
          .put("where", g.where())
          .put("unit", unit(g.kind()));
      n.put("role", g.role().wire()).put("decimals", decimals(g));
      ArrayNode against = n.putArray("against");
      for (DeskAlarm a : open) {
        if (!a.finding().returned()
            && a.finding().ofGauges()
            && a.finding().gauges().contains(g.id())) {
          against.add(a.finding().title());
        }
      }
      Optional<LastWord> said = parts.picture().lastWord(g.id());
      if (said.isPresent()) {
        LastWord w = said.get();
        if (!Double.isNaN(w.value())) {
          n.put("value", conversion(g.kind()).fromBase(w.value()));
        }
        n.put("quality", w.quality().name().toLowerCase(Locale.ROOT));
        n.put("at", Instant.ofEpochMilli(w.atMs()).toString());
        n.put("age_s", (logMs - w.receivedMs()) / 1000.0);
      }
    }
  }

  /** Decimals that show a gauge's resolution in its display unit, at most four. */
  private int decimals(GaugePlan g) {
    double step =
        (g.resolution() > 0 ? g.resolution() : g.accuracy() / 10) / conversion(g.kind()).factor();
    return (int) Math.max(0, Math.min(4, Math.ceil(-Math.log10(step) - 1e-9)));
  }

  private String unit(Kind kind) {
    return parts.plan().display().getOrDefault(kind, kind.baseUnit());
  }

  private Conversion conversion(Kind kind) {
    return Units.of(kind, unit(kind));
  }

  /** An alarm; with its evidence when asked. */
  ObjectNode alarm(DeskAlarm a, boolean evidence) {
    ObjectNode n;
    try {
      n = (ObjectNode) JSON.readTree(FindingCodec.encode(a.finding()));
    } catch (IOException e) {
      throw new UncheckedIOException("our own finding is no JSON", e);
    }
    if (evidence) {
      trails(n, a);
    } else {
      n.remove("evidence");
    }
    n.remove("event");
    n.put("state", a.state().name().toLowerCase(Locale.ROOT).replace('_', '-'));
    n.put("raised_summary", a.raisedSummary());
    if (a.acknowledgedBy() != null) {
      n.put("acknowledged_by", a.acknowledgedBy());
    }
    Long ms = a.acknowledgedMs();
    if (ms != null) {
      n.put("acknowledged", Instant.ofEpochMilli(ms).toString());
    }
    n.put("note", a.note()).put("times", a.times()).put("point", a.point());
    n.put("asks", a.state().asks());
    long logMs = parts.picture().logMs();
    if (logMs >= a.finding().onsetMs()) {
      n.put("age_s", (logMs - a.finding().onsetMs()) / 1000.0);
    }
    return n;
  }

  /** Puts the trails into the plan's units, and the limits across them. */
  private void trails(ObjectNode n, DeskAlarm a) {
    for (JsonNode trail : n.path("evidence").path("trails")) {
      Optional<GaugePlan> gauge =
          parts.plan().gauges().stream()
              .filter(g -> g.id().equals(trail.path("gauge").asText()))
              .findFirst();
      if (gauge.isPresent() && trail instanceof ObjectNode one) {
        Conversion conversion = conversion(gauge.get().kind());
        one.put("unit", unit(gauge.get().kind()));
        for (JsonNode point : one.path("points")) {
          ((ArrayNode) point).set(1, conversion.fromBase(point.path(1).asDouble()));
        }
      }
    }
    ArrayNode lines = n.putArray("lines");
    for (TrailLines.Line line : TrailLines.of(a.finding())) {
      lines
          .addObject()
          .put("unit", unit(line.kind()))
          .put("level", conversion(line.kind()).fromBase(line.level()))
          .put("says", line.says());
    }
  }

  /** What never changes while the process runs. */
  ObjectNode fixed() {
    ObjectNode n = JSON.createObjectNode();
    n.put("name", parts.plan().name()).put("cautions", parts.cautions());
    n.put("shelve_at_most_min", parts.plan().desk().shelveAtMost().toMinutes());
    parts.plan().test().phases().forEach(n.putArray("phases")::add);
    ArrayNode steps = n.putArray("closure_steps");
    parts.plan().test().closureSteps().forEach(s -> steps.add(s.text()));
    ArrayNode means = n.putArray("means");
    parts.plan().test().passes().forEach(p -> means.add(p.means()));
    Conversion pressure = conversion(Kind.PRESSURE);
    Bands b = parts.plan().bands();
    ObjectNode bands = n.putObject("bands");
    bands.put("unit", unit(Kind.PRESSURE));
    bands.put("intact_low", pressure.fromBase(b.intactLowKPa()));
    bands.put("leak_high", pressure.fromBase(b.leakHighKPa()));
    bands.put("ceiling", pressure.fromBase(b.ceilingKPa()));
    ArrayNode shutIn = n.putArray("shut_in");
    parts.plan().gauges().stream()
        .filter(g -> g.role() == GaugePlan.Role.SHUT_IN)
        .forEach(g -> shutIn.add(g.id()));
    return n;
  }

  /** When each gauge stood under an alarm of its own, over the last stretch. */
  ObjectNode strips(long spanMs) {
    List<String> ids = parts.plan().gauges().stream().map(GaugePlan::id).toList();
    long fromMs = parts.picture().columns(ids, spanMs, 1).fromMs();
    ObjectNode n = JSON.createObjectNode();
    n.put("from", fromMs).put("to", Math.max(fromMs, parts.picture().logMs()));
    ObjectNode of = n.putObject("gauges");
    ids.forEach(of::putArray);
    for (DeskAlarm a : parts.board().newest(GROUPED_AT_MOST)) {
      Long over = a.finding().returnedMs();
      if (!a.finding().ofGauges() || over != null && over < fromMs) {
        continue;
      }
      for (String id : a.finding().gauges()) {
        if (of.get(id) instanceof ArrayNode strip) {
          ObjectNode stretch = strip.addObject();
          stretch.put("from", Math.max(fromMs, a.finding().onsetMs()));
          stretch.put("to", over).put("title", a.finding().title());
        }
      }
    }
    return n;
  }

  /**
   * The extremes of gauges over the last stretch; a column is told as its lowest and its highest
   * value.
   */
  ObjectNode series(List<String> asked, long spanMs, int atMost) {
    List<GaugePlan> gauges = new ArrayList<>();
    parts.plan().gauges().stream().filter(g -> asked.contains(g.id())).forEach(gauges::add);
    Columns columns =
        parts.picture().columns(gauges.stream().map(GaugePlan::id).toList(), spanMs, atMost);
    ObjectNode n = JSON.createObjectNode();
    n.put("from", columns.fromMs()).put("column_ms", columns.columnMs());
    ObjectNode of = n.putObject("gauges");
    for (GaugePlan g : gauges) {
      ObjectNode one = of.putObject(g.id());
      one.put("unit", unit(g.kind()));
      fill(one.putArray("low"), columns.lows(), g);
      fill(one.putArray("high"), columns.highs(), g);
    }
    return n;
  }

  private void fill(ArrayNode into, Map<String, double[]> from, GaugePlan g) {
    Conversion conversion = conversion(g.kind());
    for (double v : from.getOrDefault(g.id(), new double[0])) {
      if (Double.isNaN(v)) {
        into.addNull();
      } else {
        into.add(conversion.fromBase(v));
      }
    }
  }
}

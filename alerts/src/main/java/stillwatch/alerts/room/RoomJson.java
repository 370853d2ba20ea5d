package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import stillwatch.alerts.desk.AlarmFigures;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.desk.Flood;
import stillwatch.alerts.route.RouteStatus;
import stillwatch.alerts.series.LastWord;
import stillwatch.alerts.series.WellPicture;
import stillwatch.alerts.series.WrongCosts;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.unit.Conversion;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.watch.Move;
import stillwatch.rules.watch.Presence;
import stillwatch.rules.well.ExpectedPressures;

/** The room's answers as JSON, in the plan's display units. Safe from any thread. */
final class RoomJson {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int RECENT = 30;
  private static final int GROUPED_AT_MOST = 400;
  private static final int LATELY = 500;

  private final RoomParts parts;
  private final DisplayUnits units;
  private final AlarmsJson alarms;
  private final CoursesJson courses;
  private final ExpectedCourse expected;
  private final TestJson test;
  private final WrongCosts costs;
  private final LeavingJson leaving;
  private final SeabedJson seabed;

  RoomJson(RoomParts parts) {
    this.parts = parts;
    units = new DisplayUnits(parts.plan());
    alarms = new AlarmsJson(parts, units);
    courses = new CoursesJson(parts, units);
    expected = new ExpectedCourse(parts.plan());
    test = new TestJson(parts, units);
    costs = new WrongCosts(parts.plan());
    leaving = new LeavingJson(parts);
    seabed = new SeabedJson(parts);
  }

  /** The alarms as JSON. */
  AlarmsJson alarms() {
    return alarms;
  }

  /** The courses of the gauges as JSON. */
  CoursesJson courses() {
    return courses;
  }

  /** The test from its readiness to its end as JSON. */
  TestJson test() {
    return test;
  }

  /** Weather and leaving as JSON. */
  LeavingJson leaving() {
    return leaving;
  }

  /** What passes over the seabed saw, as JSON. */
  SeabedJson seabed() {
    return seabed;
  }

  /** Everything a page needs every second. */
  ObjectNode state() {
    ObjectNode n = JSON.createObjectNode();
    n.put("well", parts.plan().well());
    n.put("name", parts.plan().name());
    n.put("plan", parts.plan().revision() + " " + parts.plan().fingerprint());
    n.put("mode", parts.mode().get()).put("exercise", parts.exercise());
    n.put("exercise_over", parts.exercise() && parts.mode().get().endsWith(", over"));
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
    SourcesJson.put(parts.sources().get(), n);
    operation(n);
    parts.review().words().ifPresent(r -> n.set("review", r));
    test(n, logMs);
    List<DeskAlarm> beside = parts.board().heldOrAgainstGauges(GROUPED_AT_MOST);
    gauges(n.putArray("gauges"), beside, logMs);
    List<DeskAlarm> open = parts.board().open(GROUPED_AT_MOST);
    GlanceJson glance = new GlanceJson(parts, units, expected, open, beside);
    glance.into(n);
    alarms.all(n, open, beside, glance.live());
    flood(n, logMs);
    n.set("shift", parts.shift().now());
    leaving.head(n);
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
    WellPicture picture = parts.picture();
    picture.shutInMs().ifPresent(ms -> moment(n, "shut_in", ms, logMs - ms));
    picture.holdPointMs().ifPresent(ms -> moment(n, "hold_point", ms, ms - logMs));
    picture.testEndMs().ifPresent(ms -> moment(n, "test_end", ms, ms - logMs));
  }

  private static void moment(ObjectNode n, String name, long ms, long spanMs) {
    n.put(name, time(ms)).put(name + "_s", spanMs / 1000.0);
  }

  private static String time(long ms) {
    return Instant.ofEpochMilli(ms).toString();
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

  /** What each sense says, side by side. */
  ArrayNode senses() {
    return new EvidenceTable(parts).rows();
  }

  /** The evidence for a hold point. */
  ObjectNode evidence() {
    ObjectNode n = JSON.createObjectNode();
    long logMs = parts.picture().logMs();
    n.put("log", Instant.ofEpochMilli(logMs).toString());
    test(n, logMs);
    n.set("rows", senses());
    costs(n.putArray("costs"));
    n.put("cautions", parts.cautions());
    n.put("journal", parts.journal().head().hash());
    return n;
  }

  private void costs(ArrayNode into) {
    for (WrongCosts.Row r : costs.rows(parts.reviewOfThisShutIn(), parts.picture().units())) {
      into.addObject()
          .put("explanation", r.explanation())
          .put("error", r.error())
          .put("cost", r.cost())
          .put("assumes", r.assumes());
    }
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
    operations(n.putArray("operations"));
    decisions(n.putArray("decisions"));
    List<Move> moves = parts.picture().lastMoves();
    if (!moves.isEmpty()) {
      Move last = moves.get(moves.size() - 1);
      n.putObject("last_operation")
          .put("at", time(last.atMs()))
          .put("what", last.what().wire())
          .put("text", last.text());
    }
    near(n.putArray("near"));
  }

  private void operations(ArrayNode done) {
    List<Operation> all = parts.picture().operations();
    all.stream()
        .skip(Math.max(0, all.size() - RECENT))
        .forEach(
            o ->
                done.addObject()
                    .put("at", time(o.atMs()))
                    .put("what", o.what().wire())
                    .put("gauge", o.gauge())
                    .put("text", o.text()));
  }

  private void decisions(ArrayNode decisions) {
    for (Decision d : parts.picture().decisions()) {
      decisions
          .addObject()
          .put("at", time(d.atMs()))
          .put("choice", d.choice().wire())
          .put("by", d.by())
          .put("why", d.why() + (d.changes().isEmpty() ? "" : "; changes: " + d.changes()));
    }
  }

  private void near(ArrayNode near) {
    for (Presence p : parts.picture().presence()) {
      near.addObject()
          .put("what", p.what().wire())
          .put("text", p.text())
          .put("from", time(p.fromMs()));
    }
  }

  private void gauges(ArrayNode into, List<DeskAlarm> open, long logMs) {
    for (GaugePlan g : parts.plan().gauges()) {
      ObjectNode n = into.addObject();
      n.put("id", g.id())
          .put("kind", g.kind().wire())
          .put("where", g.where())
          .put("unit", units.unit(g.kind()));
      n.put("role", g.role().wire()).put("decimals", units.decimals(g));
      ArrayNode against = n.putArray("against");
      open.stream()
          .map(DeskAlarm::finding)
          .filter(f -> !f.returned() && f.ofGauges() && f.gauges().contains(g.id()))
          .forEach(f -> against.add(f.title()));
      parts.picture().lastWord(g.id()).ifPresent(w -> said(n, g, w, logMs));
    }
  }

  private void said(ObjectNode n, GaugePlan g, LastWord w, long logMs) {
    if (!Double.isNaN(w.value())) {
      n.put("value", units.conversion(g.kind()).fromBase(w.value()));
    }
    n.put("quality", w.quality().name().toLowerCase(Locale.ROOT));
    n.put("at", time(w.atMs())).put("age_s", (logMs - w.receivedMs()) / 1000.0);
  }

  /** What never changes while the process runs. */
  ObjectNode fixed() {
    ObjectNode n = JSON.createObjectNode();
    n.put("name", parts.plan().name()).put("cautions", parts.cautions());
    n.put("shelve_at_most_min", parts.plan().desk().shelveAtMost().toMinutes());
    parts.plan().test().phases().forEach(n.putArray("phases")::add);
    ArrayNode steps = n.putArray("closure_steps");
    parts.plan().test().closureSteps().forEach(s -> steps.add(s.text()));
    ArrayNode gauges = n.putArray("gauges");
    parts.plan().gauges().forEach(g -> gauges.add(g.id()));
    ArrayNode means = n.putArray("means");
    parts.plan().test().passes().forEach(p -> means.add(p.means()));
    parts.plan().siteZone().ifPresent(zone -> n.put("site_zone", zone.getId()));
    bands(n.putObject("bands"));
    course(n.putArray("expected"));
    ArrayNode shutIn = n.putArray("shut_in");
    parts.plan().gauges().stream()
        .filter(g -> g.role() == GaugePlan.Role.SHUT_IN)
        .forEach(g -> shutIn.add(g.id()));
    return n;
  }

  /** The expected course: hours since the shut-in, then the pressures of which P10, P50, P90. */
  private void course(ArrayNode into) {
    Conversion pressure = units.conversion(Kind.PRESSURE);
    for (ExpectedPressures.AtTime t : expected.all()) {
      into.addArray()
          .add(t.hours())
          .add(pressure.fromBase(t.pressure().p10()))
          .add(pressure.fromBase(t.pressure().p50()))
          .add(pressure.fromBase(t.pressure().p90()));
    }
  }

  private void bands(ObjectNode n) {
    Conversion pressure = units.conversion(Kind.PRESSURE);
    Bands b = parts.plan().bands();
    n.put("unit", units.unit(Kind.PRESSURE));
    n.put("intact_low", pressure.fromBase(b.intactLowKPa()));
    n.put("leak_high", pressure.fromBase(b.leakHighKPa()));
    n.put("ceiling", pressure.fromBase(b.ceilingKPa()));
  }
}

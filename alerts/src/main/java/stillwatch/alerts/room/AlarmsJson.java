package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import stillwatch.alerts.desk.AlarmGroup;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.desk.Hold;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.unit.Conversion;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.plan.GaugePlan;

/** The alarms and holds as JSON. Safe from any thread. */
final class AlarmsJson {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int RECENT = 30;
  private static final int LINES_AT_MOST = 60;

  private final RoomParts parts;
  private final DisplayUnits units;

  AlarmsJson(RoomParts parts, DisplayUnits units) {
    this.parts = parts;
    this.units = units;
  }

  /**
   * What asks, each with what it explains behind it; the holds; what is over. Of very many the
   * least urgent are counted, not told.
   */
  void all(
      ObjectNode n, List<DeskAlarm> open, List<DeskAlarm> beside, Optional<LivePressure> live) {
    ArrayNode alarms = n.putArray("alarms");
    List<AlarmGroup> told = AlarmGroup.of(open).stream().limit(LINES_AT_MOST).toList();
    long asking = parts.board().openCount();
    told.forEach(g -> alarms.add(live(group(g), g.lead(), live)));
    n.put("more", asking - told.stream().mapToInt(g -> 1 + g.members().size()).sum());
    ArrayNode held = n.putArray("held");
    beside.stream()
        .filter(a -> a.state().held())
        .limit(LINES_AT_MOST)
        .forEach(a -> held.add(live(one(a, false), a, live)));
    ArrayNode holds = n.putArray("holds");
    parts.board().holds().forEach(h -> holds.add(hold(h)));
    ArrayNode over = n.putArray("over");
    parts.board().newestOver(RECENT).forEach(a -> over.add(live(one(a, false), a, live)));
  }

  /** Puts what the last readings say beside an alarm that is about the pressure or its loss. */
  private static ObjectNode live(ObjectNode n, DeskAlarm a, Optional<LivePressure> live) {
    String sense = a.finding().meaning().sense();
    if (sense == null ? a.finding().change() == null : !sense.equals("pressure")) {
      return n;
    }
    if (live.isEmpty()) {
      return n.put("live", "no information: no shut-in gauge can be trusted");
    }
    long onsetMs = a.finding().onsetMs();
    if (a.finding().returned()) {
      n.put("returned_text", live.get().returned(onsetMs));
      n.put("recovered", live.get().recovered(onsetMs));
    }
    return n.put("size", live.get().gapText(onsetMs)).put("live", live.get().text(onsetMs));
  }

  private ObjectNode group(AlarmGroup g) {
    ObjectNode lead = one(g.lead(), false);
    ArrayNode behind = lead.putArray("behind");
    g.members().stream().limit(LINES_AT_MOST).forEach(a -> behind.add(one(a, false)));
    return lead.put("behind_count", g.members().size());
  }

  /** A hold as JSON: a point shelved, suppressed or out of service. */
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

  /** An alarm; with its evidence when asked. */
  ObjectNode one(DeskAlarm a, boolean evidence) {
    ObjectNode n;
    try {
      n = (ObjectNode) JSON.readTree(FindingCodec.encode(a.finding()));
    } catch (IOException e) {
      throw new UncheckedIOException("our own finding is no JSON", e);
    }
    if (evidence) {
      trails(n, a);
    } else {
      JsonNode hypotheses = n.path("evidence").path("hypotheses");
      n.remove("evidence");
      if (!hypotheses.isEmpty()) {
        n.set("hypotheses", hypotheses);
      }
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
    explained(n, a);
    return n;
  }

  /** How somebody explained the change that the alarm speaks of, the newest explanation. */
  private void explained(ObjectNode n, DeskAlarm a) {
    String change = a.finding().change();
    for (Explanation e : parts.picture().explanations()) {
      if (e.change().equals(change)) {
        n.putObject("explained")
            .put("at", Instant.ofEpochMilli(e.atMs()).toString())
            .put("cause", e.cause().wire())
            .put("by", e.by())
            .put("why", e.why());
      }
    }
  }

  /** Puts the trails into the plan's units, and the limits across them. */
  private void trails(ObjectNode n, DeskAlarm a) {
    for (JsonNode trail : n.path("evidence").path("trails")) {
      Optional<GaugePlan> gauge =
          parts.plan().gauges().stream()
              .filter(g -> g.id().equals(trail.path("gauge").asText()))
              .findFirst();
      if (gauge.isPresent() && trail instanceof ObjectNode one) {
        Conversion conversion = units.conversion(gauge.get().kind());
        one.put("unit", units.unit(gauge.get().kind()));
        for (JsonNode point : one.path("points")) {
          ((ArrayNode) point).set(1, conversion.fromBase(point.path(1).asDouble()));
        }
      }
    }
    lines(n.putArray("lines"), a);
  }

  private void lines(ArrayNode lines, DeskAlarm a) {
    for (TrailLines.Line line : TrailLines.of(a.finding())) {
      lines
          .addObject()
          .put("unit", units.unit(line.kind()))
          .put("level", units.conversion(line.kind()).fromBase(line.level()))
          .put("says", line.says());
    }
  }
}

package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.series.Columns;
import stillwatch.ingest.unit.Conversion;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.GaugePlan;

/** How the gauges went, and when they stood under alarms, as JSON. Safe from any thread. */
final class CoursesJson {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int ALARMS_AT_MOST = 400;

  private final RoomParts parts;
  private final DisplayUnits units;

  CoursesJson(RoomParts parts, DisplayUnits units) {
    this.parts = parts;
    this.units = units;
  }

  /** When each gauge stood under an alarm of its own, over the last stretch. */
  ObjectNode strips(long spanMs) {
    List<String> ids = parts.plan().gauges().stream().map(GaugePlan::id).toList();
    long fromMs = parts.picture().columns(ids, spanMs, 1).fromMs();
    ObjectNode n = JSON.createObjectNode();
    n.put("from", fromMs).put("to", Math.max(fromMs, parts.picture().logMs()));
    ObjectNode of = n.putObject("gauges");
    ids.forEach(of::putArray);
    for (DeskAlarm a : parts.board().newest(ALARMS_AT_MOST)) {
      if (a.finding().ofGauges()) {
        stretch(of, a.finding(), fromMs);
      }
    }
    return n;
  }

  private static void stretch(ObjectNode strips, Finding f, long fromMs) {
    Long over = f.returnedMs();
    if (over != null && over < fromMs) {
      return;
    }
    for (String id : f.gauges()) {
      if (strips.get(id) instanceof ArrayNode strip) {
        strip
            .addObject()
            .put("from", Math.max(fromMs, f.onsetMs()))
            .put("to", over)
            .put("title", f.title());
      }
    }
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
      one.put("unit", units.unit(g.kind()));
      fill(one.putArray("low"), columns.lows(), g);
      fill(one.putArray("high"), columns.highs(), g);
    }
    return n;
  }

  private void fill(ArrayNode into, Map<String, double[]> from, GaugePlan g) {
    Conversion conversion = units.conversion(g.kind());
    for (double v : from.getOrDefault(g.id(), new double[0])) {
      if (Double.isNaN(v)) {
        into.addNull();
      } else {
        into.add(conversion.fromBase(v));
      }
    }
  }
}

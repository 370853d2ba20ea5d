package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.series.Meanwhile;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.leaving.Absence;
import stillwatch.rules.leaving.LeavingWords;
import stillwatch.rules.plan.TestPlan;

/** Weather and leaving as JSON. Safe from any thread. */
final class LeavingJson {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final RoomParts parts;

  LeavingJson(RoomParts parts) {
    this.parts = parts;
  }

  /** Who watches from shore, where somebody does. */
  void head(ObjectNode state) {
    parts
        .picture()
        .absence()
        .ifPresent(
            a ->
                state
                    .putObject("ashore")
                    .put("by", a.newest().by())
                    .put("links", a.newest().links())
                    .put("since", time(a.fromMs()))
                    .put("confirmed", time(a.confirmedMs())));
  }

  /** What speaks for and against leaving the well shut unattended. */
  ArrayNode rows(ArrayNode evidence) {
    return new LeavingTable(parts).rows(evidence);
  }

  /**
   * The sheet.
   *
   * @param evidence what each sense says
   */
  ObjectNode sheet(ArrayNode evidence) {
    ObjectNode n = JSON.createObjectNode().put("log", time(parts.picture().logMs()));
    head(n);
    n.set("rows", rows(evidence));
    ArrayNode forecasts = n.putArray("forecasts");
    parts.picture().forecasts().forEach(f -> forecasts.add(LeavingWords.of(f)));
    cannot().forEach(n.putArray("cannot")::add);
    parts.picture().leavingDecided().ifPresent(d -> decision(n.putObject("decided"), d));
    List<Absence> absences = parts.picture().absences();
    if (!absences.isEmpty()) {
      absence(n.putObject("absence"), absences.get(absences.size() - 1));
    }
    return n;
  }

  /** What nobody can do from shore, by the plan. */
  private List<String> cannot() {
    List<String> units =
        parts.plan().reopening().stream()
            .flatMap(r -> r.units().stream())
            .filter(u -> u.backAfterWeather().isPresent())
            .map(Reopening.CollectionUnit::name)
            .toList();
    String passes =
        parts.plan().test().passes().stream()
            .map(TestPlan.Pass::means)
            .collect(Collectors.joining(", "));
    return Stream.of(
            "open or close the well, where a vessel or a vehicle does it",
            units.isEmpty() ? "" : "collect its flow with " + String.join(", ", units),
            passes.isEmpty() ? "" : "look at the seafloor: " + passes,
            "work on a gauge, or read one that does not report by itself")
        .filter(s -> !s.isEmpty())
        .toList();
  }

  private void absence(ObjectNode n, Absence absence) {
    n.put("from", time(absence.fromMs())).put("by", absence.newest().by());
    absence.toMs().ifPresent(ms -> n.put("to", time(ms)));
    absence.back().ifPresent(b -> n.put("back", b.by()));
    n.put("pressures", Meanwhile.pressures(absence, parts.picture(), parts.plan()));
    List<Finding> findings =
        parts.board().newest(Integer.MAX_VALUE).stream().map(DeskAlarm::finding).toList();
    ArrayNode rows = n.putArray("meanwhile");
    Meanwhile.of(absence, findings)
        .forEach(r -> rows.addObject().put("at", time(r.atMs())).put("text", r.text()));
  }

  private static void decision(ObjectNode n, Decision d) {
    n.put("choice", d.choice().wire()).put("by", d.by()).put("why", d.why());
    n.put("at", time(d.atMs()));
  }

  private static String time(long ms) {
    return Instant.ofEpochMilli(ms).toString();
  }
}

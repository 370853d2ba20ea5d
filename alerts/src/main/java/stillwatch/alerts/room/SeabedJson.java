package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import stillwatch.alerts.series.SeabedPicture;
import stillwatch.rules.survey.SeabedWords;
import stillwatch.rules.survey.Survey;

/** What passes over the seabed saw, as JSON. Safe from any thread. */
final class SeabedJson {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final RoomParts parts;

  SeabedJson(RoomParts parts) {
    this.parts = parts;
  }

  /** The sheet. */
  ObjectNode sheet() {
    Survey survey = parts.picture().survey();
    ObjectNode n = JSON.createObjectNode().put("log", time(parts.picture().logMs()));
    survey.closedMs().ifPresent(ms -> n.put("closing", time(ms)));
    n.put("picture", SeabedPicture.of(survey));
    ArrayNode without = n.putArray("without_comparison");
    survey.comparedWithNone().forEach(without::add);
    ArrayNode passes = n.putArray("passes");
    for (Survey.Pass p : survey.passes()) {
      ObjectNode pass = passes.addObject().put("means", p.means()).put("name", p.name());
      pass.put("from", time(p.fromMs())).put("to", time(p.toMs()));
      p.before().ifPresent(b -> pass.put("before", b));
      pass.put("seen", p.seen()).put("gone", p.gone());
    }
    ArrayNode things = n.putArray("things");
    survey.things().forEach(t -> thing(things.addObject(), t));
    return n;
  }

  private static void thing(ObjectNode n, Survey.Thing t) {
    n.put("name", t.name()).put("means", t.means());
    t.shape()
        .ifPresent(
            s -> {
              n.put("kind", SeabedWords.kind(s)).put("place", SeabedWords.place(s));
              n.put("east", s.eastM()).put("north", s.northM());
              if (!Double.isNaN(s.sizeM())) {
                n.put("size", s.sizeM());
              }
              if (!Double.isNaN(s.uncertaintyM())) {
                n.put("uncertainty", s.uncertaintyM());
              }
            });
    t.firstMs().ifPresent(ms -> n.put("first", time(ms)));
    t.lastMs().ifPresent(ms -> n.put("last", time(ms)));
    t.goneMs().ifPresent(ms -> n.put("gone", time(ms)));
    n.put("state", t.state().wire()).put("words", t.state().words()).put("why", t.why());
  }

  private static String time(long ms) {
    return Instant.ofEpochMilli(ms).toString();
  }
}

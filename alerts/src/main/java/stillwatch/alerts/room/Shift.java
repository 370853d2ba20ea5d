package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.journal.Journal;

/** Who is on shift, and what the record says since they took over. Safe from any thread. */
public final class Shift {
  private static final ObjectMapper JSON = new ObjectMapper();

  /** What a hand-over must tell: not every delivery, nor what follows from what is told. */
  private static final List<String> TOLD =
      List.of(
          "raised",
          "returned",
          "acknowledged",
          "re-alarmed",
          "reset",
          "held-back",
          "released",
          "note",
          "operation",
          "observation",
          "decision",
          "explanation",
          "handover");

  private static final int RAISED_AT_MOST = 200;

  private final Journal journal;
  private final String well;
  private volatile @Nullable Entry newest;

  /** The shifts of a well, as its record tells them. */
  public Shift(Journal journal, String well) {
    this.journal = journal;
    this.well = well;
    renew();
  }

  /** Looks again who took over last. */
  void renew() {
    journal.entries(well, List.of("handover"), e -> newest = e);
  }

  /** Who is on shift, since when, and what the one before said; empty object when not set. */
  ObjectNode now() {
    ObjectNode n = JSON.createObjectNode();
    Entry e = newest;
    if (e != null) {
      n.put("who", e.subject()).put("since", Instant.ofEpochMilli(e.writtenMs()).toString());
      n.put("from", e.by());
      try {
        n.put("text", JSON.readTree(e.body()).path("text").asText());
      } catch (IOException x) {
        n.put("text", e.body());
      }
    }
    return n;
  }

  /**
   * What the record tells since the last hand-over, oldest first: everything that people did, and
   * the newest of what rules raised, with how many more there are.
   */
  void tell(ObjectNode n) {
    List<Entry> all = sinceHandover();
    long leftOut = Math.max(0, all.stream().filter(Shift::byRules).count() - RAISED_AT_MOST);
    n.put("left_out", leftOut);
    ArrayNode told = n.putArray("told");
    for (Entry e : all) {
      if (byRules(e) && leftOut > 0) {
        leftOut--;
        continue;
      }
      tell(told.addObject(), e);
    }
  }

  private static void tell(ObjectNode n, Entry e) {
    n.put("seq", e.seq())
        .put("at", Instant.ofEpochMilli(e.writtenMs()).toString())
        .put("what", e.what())
        .put("by", e.by())
        .put("subject", e.subject())
        .put("text", text(e));
  }

  private List<Entry> sinceHandover() {
    Entry handover = newest;
    long from = handover == null ? 0 : handover.seq();
    List<Entry> all = new ArrayList<>();
    journal.entries(
        well,
        TOLD,
        e -> {
          if (e.seq() > from) {
            all.add(e);
          }
        });
    return all;
  }

  private static boolean byRules(Entry e) {
    return e.what().equals("raised") || e.what().equals("returned");
  }

  private static String gauge(JsonNode body) {
    return body.has("gauge") ? " " + body.path("gauge").asText() : "";
  }

  private static String text(Entry e) {
    if (!e.body().startsWith("{")) {
      return e.body();
    }
    try {
      var body = JSON.readTree(e.body());
      var finding = body.has("finding") ? body.path("finding") : body;
      return switch (e.what()) {
        case "raised", "returned" ->
            finding.path("rule").asText() + ": " + finding.path("summary").asText();
        case "held-back" -> body.path("how").asText() + ": " + body.path("reason").asText();
        case "operation" ->
            body.path("what").asText() + gauge(body) + ": " + body.path("text").asText();
        case "explanation" ->
            "change "
                + body.path("change").asText()
                + ", "
                + body.path("cause").asText()
                + ": "
                + body.path("why").asText();
        case "observation" ->
            body.path("means").asText()
                + ", "
                + body.path("result").asText()
                + ": "
                + body.path("text").asText();
        case "decision" ->
            body.path("choice").asText()
                + ", by "
                + body.path("by").asText()
                + ": "
                + body.path("why").asText();
        default -> body.path("text").asText();
      };
    } catch (IOException x) {
      return e.body();
    }
  }
}

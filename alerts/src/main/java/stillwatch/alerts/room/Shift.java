package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.journal.Journal;

/** Who is on shift, and what the record says since they took over. Safe from any thread. */
public final class Shift {
  private static final ObjectMapper JSON = new ObjectMapper();

  /** Somebody proposed to hand the shift over. */
  static final String PROPOSED = "handover";

  /** Somebody accepted that, and is on shift. */
  static final String ACCEPTED = "handover-accepted";

  /** Somebody corrected an earlier entry. */
  static final String CORRECTION = "correction";

  /** Somebody signed the report over the record as it stood. */
  static final String SIGNED = "signed";

  /** What people enter in words, and may correct. */
  private static final List<String> ENTERED =
      List.of(
          "note",
          "operation",
          "observation",
          "decision",
          "explanation",
          "attendance",
          "weather",
          "survey",
          PROPOSED,
          ACCEPTED,
          CORRECTION);

  /** What a hand-over must tell: not every delivery, nor what follows from what is told. */
  private static final List<String> TOLD =
      Stream.concat(
              Stream.of(
                  "raised",
                  "returned",
                  "acknowledged",
                  "re-alarmed",
                  "reset",
                  "held-back",
                  "released",
                  SIGNED),
              ENTERED.stream())
          .toList();

  private static final int RAISED_AT_MOST = 200;

  private final Journal journal;
  private final String well;
  private volatile @Nullable Entry accepted;
  private volatile long before; // the number of the acceptance before that; 0 when there is none
  private volatile @Nullable Entry proposed;

  /** The shifts of a well, as its record tells them. */
  public Shift(Journal journal, String well) {
    this.journal = journal;
    this.well = well;
    renew();
  }

  /** Looks again who took over last, and whether a hand-over is proposed. */
  synchronized void renew() {
    List<Entry> all = new ArrayList<>();
    journal.entries(well, List.of(PROPOSED, ACCEPTED), all::add);
    List<Entry> taken = all.stream().filter(e -> e.what().equals(ACCEPTED)).toList();
    Entry last = all.isEmpty() ? null : all.get(all.size() - 1);
    accepted = taken.isEmpty() ? null : taken.get(taken.size() - 1);
    before = taken.size() < 2 ? 0 : taken.get(taken.size() - 2).seq();
    proposed = last != null && last.what().equals(PROPOSED) ? last : null;
  }

  /** The hand-over that is proposed and not accepted. */
  Optional<Entry> proposed() {
    return Optional.ofNullable(proposed);
  }

  /** Whether this is the number of something that somebody entered in words. */
  boolean entered(long seq) {
    boolean[] found = {false};
    journal.entries(well, ENTERED, e -> found[0] |= e.seq() == seq);
    return found[0];
  }

  /**
   * Who is on shift, since when, and what the one before said; and the hand-over that is proposed
   * and not accepted. Times are the log's. Empty object when neither is.
   */
  ObjectNode now() {
    ObjectNode n = JSON.createObjectNode();
    Entry on = accepted;
    if (on != null) {
      JsonNode body = body(on);
      n.put("who", body.path("who").asText(on.by())).put("since", body.path("log").asText());
      n.put("from", on.subject()).put("text", body.path("text").asText());
    }
    Entry next = proposed;
    if (next != null) {
      n.putObject("proposed")
          .put("entry", next.seq())
          .put("to", next.subject())
          .put("by", next.by())
          .put("at", body(next).path("log").asText())
          .put("text", body(next).path("text").asText());
    }
    return n;
  }

  private static JsonNode body(Entry e) {
    try {
      return JSON.readTree(e.body());
    } catch (IOException x) {
      return JSON.createObjectNode().put("text", e.body());
    }
  }

  /**
   * What the record tells since the last hand-over was accepted, oldest first: everything that
   * people did, and the newest of what rules raised, with how many more there are; and the same of
   * the shift before. In an exercise times are the log's.
   */
  void tell(ObjectNode n, boolean exercise) {
    Entry on = accepted;
    long from = on == null ? 0 : on.seq();
    n.put("left_out", tell(n.putArray("told"), exercise, from, Long.MAX_VALUE));
    tell(n.putArray("told_before"), exercise, before, from);
  }

  private long tell(ArrayNode told, boolean exercise, long from, long to) {
    List<Entry> all = between(from, to);
    String log = "";
    long leftOut = Math.max(0, all.stream().filter(Shift::byRules).count() - RAISED_AT_MOST);
    long toLeave = leftOut;
    for (Entry e : all) {
      log = logTime(e, log);
      if (byRules(e) && toLeave > 0) {
        toLeave--;
        continue;
      }
      String at = Instant.ofEpochMilli(e.writtenMs()).toString();
      tell(told.addObject().put("at", exercise ? log : at), e);
    }
    return leftOut;
  }

  /**
   * The time of the log that an entry speaks of, else that at which it was entered; that of the one
   * before where an older version wrote neither.
   */
  private static String logTime(Entry e, String before) {
    Long ms = e.logMs();
    String otherwise = ms == null ? before : Instant.ofEpochMilli(ms).toString();
    JsonNode body = body(e);
    JsonNode finding = body.has("finding") ? body.path("finding") : body;
    String raised = finding.path(e.what()).asText(finding.path("raised").asText(otherwise));
    return body.path("log").asText(body.path("at").asText(raised));
  }

  private static void tell(ObjectNode n, Entry e) {
    n.put("seq", e.seq())
        .put("what", e.what())
        .put("by", e.by())
        .put("subject", e.subject())
        .put("text", text(e))
        .put("entered", ENTERED.contains(e.what()));
  }

  private List<Entry> between(long from, long to) {
    List<Entry> all = new ArrayList<>();
    journal.entries(
        well,
        TOLD,
        e -> {
          if (e.seq() > from && e.seq() < to) {
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

  /** An entry in words. */
  static String text(Entry e) {
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
        case "attendance", "weather", "survey" -> body.path("words").asText();
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
                + body.path("why").asText()
                + (body.has("changes") ? "; changes: " + body.path("changes").asText() : "");
        case SIGNED ->
            "the report, over entries 1 to "
                + body.path("entries").asText()
                + ", hash "
                + body.path("hash").asText();
        case CORRECTION ->
            "corrects entry " + body.path("corrects").asText() + ": " + body.path("text").asText();
        default -> body.path("text").asText();
      };
    } catch (IOException x) {
      return e.body();
    }
  }
}

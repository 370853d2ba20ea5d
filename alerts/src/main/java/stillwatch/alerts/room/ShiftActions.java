package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.people.Person;
import stillwatch.alerts.people.Role;

/**
 * A shift is handed over by two people: one proposes, the other accepts, both by name. Until it is
 * accepted the one who proposed stays on shift. What was entered is never overwritten: a later
 * entry corrects it and points at it.
 */
final class ShiftActions {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int TEXT = 5000;
  private static final Pattern HASH = Pattern.compile("[0-9a-f]{16,64}");

  private final RoomParts parts;
  private final RecordPen record;

  ShiftActions(RoomParts parts, RecordPen record) {
    this.parts = parts;
    this.record = record;
  }

  void on(Posts posts) {
    posts.add(
        "/api/handover",
        Role.OPERATE,
        "Proposes to hand the shift over.",
        this::propose,
        "to:string",
        "text:string?");
    posts.add(
        "/api/handover/accept",
        Role.OPERATE,
        "Accepts the hand-over that was proposed last.",
        this::accept,
        "entry:integer");
    posts.add(
        "/api/corrections",
        Role.OPERATE,
        "Corrects an entry of the record by a later one that points at it.",
        this::correct,
        "entry:integer",
        "text:string");
    posts.add(
        "/api/signatures",
        Role.OPERATE,
        "Signs the report that ends with this hash.",
        this::sign,
        "hash:string",
        "text:string");
  }

  private ObjectNode sign(Person person, RequestBody asked, Context c) {
    String hash = asked.needed("hash", 64);
    if (!HASH.matcher(hash).matches()) {
      throw new RequestException(
          400, "'hash' must be the hash at the end of the report, at least its first 16 digits");
    }
    List<Entry> found = new ArrayList<>();
    parts.journal().entries(e -> add(found, e, hash));
    if (found.isEmpty()) {
      throw new RequestException(
          404, "no entry of the record has the hash " + hash + "; read it off the report again");
    }
    Entry last = found.get(0);
    ObjectNode said =
        dated()
            .put("entries", last.seq())
            .put("hash", last.hash())
            .put("text", asked.needed("text", TEXT));
    return written(record.write(person, Shift.SIGNED, "", said.toString()));
  }

  private static void add(List<Entry> found, Entry e, String hash) {
    if (e.hash().startsWith(hash)) {
      found.add(e);
    }
  }

  private ObjectNode propose(Person person, RequestBody asked, Context c) {
    String to = asked.needed("to", 500);
    ObjectNode said = dated().put("to", to).put("text", asked.text("text", TEXT));
    return written(record.write(person, Shift.PROPOSED, to, said.toString()));
  }

  private ObjectNode accept(Person person, RequestBody asked, Context c) {
    long proposal = asked.whole("entry", 1, Integer.MAX_VALUE);
    Entry open =
        parts
            .shift()
            .proposed()
            .filter(e -> e.seq() == proposal)
            .orElseThrow(
                () ->
                    new RequestException(
                        409, "hand-over " + proposal + " is not open; look which one is"));
    if (!parts.open() && !open.subject().equalsIgnoreCase(person.name())) {
      throw new RequestException(
          403, "the hand-over was proposed to " + open.subject() + ", who must accept it");
    }
    ObjectNode said =
        dated()
            .put("proposal", proposal)
            .put("who", parts.open() ? open.subject() : person.name())
            .put("text", Shift.text(open));
    return written(record.write(person, Shift.ACCEPTED, open.by(), said.toString()));
  }

  private ObjectNode correct(Person person, RequestBody asked, Context c) {
    long corrects = asked.whole("entry", 1, Integer.MAX_VALUE);
    if (!parts.shift().entered(corrects)) {
      throw new RequestException(
          404, "nobody entered " + corrects + "; give the number that the shift's list shows");
    }
    ObjectNode said = dated().put("corrects", corrects).put("text", asked.needed("text", TEXT));
    return written(
        record.write(person, Shift.CORRECTION, Long.toString(corrects), said.toString()));
  }

  private ObjectNode dated() {
    return JSON.createObjectNode().put("log", Instant.ofEpochMilli(parts.pen().nowMs()).toString());
  }

  private ObjectNode written(Entry entry) {
    parts.shift().renew();
    return JSON.createObjectNode().put("entry", entry.seq());
  }
}

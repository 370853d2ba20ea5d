package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.time.Duration;
import stillwatch.alerts.people.Person;
import stillwatch.alerts.people.Role;

/** What people do in the room; everything carries their name into the record. */
final class Actions {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int TEXT = 5000;
  private static final int DAY_MINUTES = 1440;

  private final RoomParts parts;
  private final RoomJson json;
  private final Guard guard;

  Actions(RoomParts parts, RoomJson json, Guard guard) {
    this.parts = parts;
    this.json = json;
    this.guard = guard;
  }

  void on(Posts posts) {
    alarms(posts);
    others(posts);
  }

  private void alarms(Posts posts) {
    String alarm = "/api/alarms/{id}/";
    posts.add(
        alarm + "acknowledge",
        Role.OPERATE,
        "Acknowledges an alarm.",
        this::acknowledge,
        "note:string?");
    posts.add(
        alarm + "reset",
        Role.OPERATE,
        "Resets an alarm that latched.",
        (p, a, c) -> json.alarms().one(parts.board().reset(id(c), p.name()), false));
    posts.add(
        alarm + "shelve",
        Role.OPERATE,
        "Puts an alarm's point aside for a time.",
        this::shelve,
        "minutes:integer",
        "reason:string");
    posts.add(
        alarm + "remove",
        Role.ADMINISTER,
        "Takes an alarm's point out of service.",
        (p, a, c) ->
            json.alarms().hold(parts.board().remove(id(c), p.name(), a.needed("reason", TEXT))),
        "reason:string");
    posts.add(
        alarm + "note",
        Role.OPERATE,
        "Adds a note about an alarm to the record.",
        (p, a, c) -> note(p, a, id(c)),
        "text:string");
  }

  private void others(Posts posts) {
    posts.add(
        "/api/notes",
        Role.OPERATE,
        "Adds a note to the record.",
        (p, a, c) -> note(p, a, ""),
        "text:string");
    posts.add(
        "/api/holds/restore",
        Role.OPERATE,
        "Ends what holds a point back.",
        this::restore,
        "point:string");
  }

  private static String id(Context c) {
    return c.pathParam("id");
  }

  private ObjectNode acknowledge(Person person, RequestBody asked, Context c) {
    return json.alarms()
        .one(parts.board().acknowledge(id(c), person.name(), asked.text("note", TEXT)), false);
  }

  private ObjectNode shelve(Person person, RequestBody asked, Context c) {
    Duration time = Duration.ofMinutes(asked.whole("minutes", 1, 7 * DAY_MINUTES));
    return json.alarms()
        .hold(parts.board().shelve(id(c), time, person.name(), asked.needed("reason", TEXT)));
  }

  private ObjectNode restore(Person person, RequestBody asked, Context c) {
    String point = asked.needed("point", 1000);
    boolean removed =
        parts.board().holds().stream()
            .anyMatch(h -> h.point().equals(point) && h.untilMs() == null);
    if (removed) {
      Person unused = guard.may(c, Role.ADMINISTER);
    }
    parts.board().restore(point, person.name());
    return JSON.createObjectNode().put("restored", point);
  }

  private ObjectNode note(Person person, RequestBody asked, String id) {
    parts.board().note(id, person.name(), asked.needed("text", TEXT));
    return JSON.createObjectNode().put("noted", true);
  }
}

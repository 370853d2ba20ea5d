package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Instant;
import java.util.Optional;
import stillwatch.alerts.people.Member;
import stillwatch.alerts.people.Pass;
import stillwatch.alerts.people.People;
import stillwatch.alerts.people.Person;
import stillwatch.alerts.people.Role;

/** How people come in and go, and who may come. */
final class Entrance {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final People people;
  private final Guard guard;

  Entrance(People people, Guard guard, ApiDocument document) {
    this.people = people;
    this.guard = guard;
    describeComing(document);
    describePeople(document);
  }

  void on(RoutesConfig routes) {
    routes.get("/api/me", c -> Answers.json(c, me(c)));
    routes.post("/api/enter", this::enter);
    routes.post("/api/login", this::login);
    routes.post("/api/logout", c -> leave(c));
    routes.get(
        "/api/people",
        c -> {
          Person unused = guard.may(c, Role.ADMINISTER);
          Answers.json(c, all());
        });
    routes.post("/api/people/invite", c -> made(c, true));
    routes.post("/api/people/machine", c -> made(c, false));
    routes.post("/api/people/remove", this::remove);
    routes.post("/api/people/role", this::role);
    routes.post("/api/people/revoke", this::revoke);
  }

  private static void describeComing(ApiDocument document) {
    document.add("get", "/api/me", null, "Who is here, and the guard their page must send.");
    document.add(
        "post",
        "/api/enter",
        null,
        "Enters by a link that works once.",
        "link:string",
        "name:string",
        "password:string");
    document.add(
        "post",
        "/api/login",
        null,
        "Enters by name and password.",
        "name:string",
        "password:string");
    document.add("post", "/api/logout", null, "Leaves.");
  }

  private static void describePeople(ApiDocument document) {
    document.add(
        "get",
        "/api/people",
        Role.ADMINISTER,
        "Who may enter; links and tokens that hold, who made them and when they end.");
    document.add(
        "post",
        "/api/people/invite",
        Role.ADMINISTER,
        "Makes a link that works once.",
        "role:string");
    document.add(
        "post",
        "/api/people/machine",
        Role.ADMINISTER,
        "Makes a token for a machine, told this once.",
        "name:string",
        "role:string");
    document.add(
        "post",
        "/api/people/remove",
        Role.ADMINISTER,
        "Somebody, or a machine, may no longer enter, nor anybody by a link or token they made.",
        "name:string");
    document.add(
        "post",
        "/api/people/role",
        Role.ADMINISTER,
        "Somebody may do something else from now on.",
        "name:string",
        "role:string");
    document.add(
        "post",
        "/api/people/revoke",
        Role.ADMINISTER,
        "A link or token no longer holds.",
        "id:string");
  }

  private ObjectNode me(Context c) {
    ObjectNode n = JSON.createObjectNode().put("open", guard.open());
    n.put("nobody", people.nobody());
    guard
        .asking(c)
        .ifPresent(
            p ->
                n.put("name", p.name())
                    .put("role", p.role().wire())
                    .put("guard", guard.guardOf(c)));
    return n;
  }

  private void enter(Context c) {
    RequestBody asked = RequestBody.of(c);
    String name = asked.needed("name", 200);
    guard.entering(c, name);
    try {
      came(c, name, people.enter(asked.needed("link", 200), name, asked.text("password", 1000)));
    } catch (People.PeopleException e) {
      boolean dead = e instanceof People.DeadLinkException;
      throw new RequestException(dead ? 401 : 400, String.valueOf(e.getMessage()));
    }
  }

  private void login(Context c) {
    RequestBody asked = RequestBody.of(c);
    String name = asked.needed("name", 200);
    guard.entering(c, name);
    Optional<People.Session> session = people.login(name, asked.text("password", 1000));
    if (session.isEmpty()) {
      throw new RequestException(401, "wrong name or password");
    }
    came(c, name, session.get());
  }

  private void came(Context c, String name, People.Session session) {
    guard.entered(c, name);
    guard.keep(c, session);
    Answers.json(
        c,
        JSON.createObjectNode()
            .put("name", session.person().name())
            .put("role", session.person().role().wire())
            .put("guard", session.guard()));
  }

  private void leave(Context c) {
    guard.leave(c);
    Answers.json(c, JSON.createObjectNode().put("left", true));
  }

  private ObjectNode all() {
    ObjectNode n = JSON.createObjectNode();
    members(n.putArray("people"));
    passes(n.putArray("passes"));
    return n;
  }

  private void members(ArrayNode all) {
    for (Member m : people.all()) {
      ObjectNode person = all.addObject().put("name", m.person().name());
      person.put("role", m.person().role().wire()).put("invited_by", m.invitedBy());
      person.put("since", time(m.sinceMs()));
    }
  }

  private void passes(ArrayNode passes) {
    for (Pass p : people.passes()) {
      ObjectNode pass =
          passes.addObject().put("id", p.id()).put("what", p.once() ? "link" : "token");
      pass.put("name", p.name()).put("role", p.role().wire()).put("made_by", p.madeBy());
      pass.put("made", time(p.madeMs()));
      Long until = p.untilMs();
      pass.put("until", until == null ? "" : time(until));
    }
  }

  private static String time(long ms) {
    return Instant.ofEpochMilli(ms).toString();
  }

  /** A link for a person, or a token for a machine; told this once. */
  private void made(Context c, boolean person) {
    Person by = guard.acts(c, Role.ADMINISTER);
    RequestBody asked = RequestBody.of(c);
    Role role = asked.one("role", Role.values(), Role::wire);
    if (person && role == Role.FEED) {
      throw new RequestException(
          400, "feed is for machines; a person may look, operate or administer");
    }
    Answers.json(
        c,
        person
            ? JSON.createObjectNode().put("link", people.invite(role, by.name()))
            : JSON.createObjectNode()
                .put("token", people.machine(asked.needed("name", 200), role, by.name())));
  }

  private void remove(Context c) {
    Person by = guard.acts(c, Role.ADMINISTER);
    String name = other(RequestBody.of(c), by);
    people.remove(name, by.name());
    Answers.json(c, JSON.createObjectNode().put("removed", name));
  }

  private void role(Context c) {
    Person by = guard.acts(c, Role.ADMINISTER);
    RequestBody asked = RequestBody.of(c);
    Role role = asked.one("role", Role.values(), Role::wire);
    String name = other(asked, by);
    people.role(name, role, by.name());
    Answers.json(c, JSON.createObjectNode().put("name", name).put("role", role.wire()));
  }

  private static String other(RequestBody asked, Person by) {
    String name = asked.needed("name", 200);
    if (name.equals(by.name())) {
      throw new RequestException(
          400, "nobody removes or changes themselves; ask another administrator");
    }
    return name;
  }

  private void revoke(Context c) {
    Person by = guard.acts(c, Role.ADMINISTER);
    String id = RequestBody.of(c).needed("id", 64);
    people.revoke(id, by.name());
    Answers.json(c, JSON.createObjectNode().put("revoked", id));
  }
}

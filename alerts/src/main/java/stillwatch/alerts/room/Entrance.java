package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.Optional;
import stillwatch.alerts.people.People;
import stillwatch.alerts.people.Person;
import stillwatch.alerts.people.Role;

/** How people come in and go, and who may come. */
final class Entrance {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final People people;
  private final Guard guard;

  Entrance(People people, Guard guard, ApiDocument document) {
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
    document.add("get", "/api/people", Role.ADMINISTER, "Who may enter.");
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
        "Somebody, or a machine, may no longer enter.",
        "name:string");
    this.people = people;
    this.guard = guard;
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
    Asked asked = Asked.of(c);
    String name = asked.needed("name", 200);
    guard.entering(c, name);
    try {
      came(c, name, people.enter(asked.needed("link", 200), name, asked.text("password", 1000)));
    } catch (People.PeopleException e) {
      throw new Refused(400, String.valueOf(e.getMessage()));
    }
  }

  private void login(Context c) {
    Asked asked = Asked.of(c);
    String name = asked.needed("name", 200);
    guard.entering(c, name);
    Optional<People.Session> session = people.login(name, asked.text("password", 1000));
    if (session.isEmpty()) {
      throw new Refused(401, "name and password do not belong together");
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
    ArrayNode all = n.putArray("people");
    people.all().forEach(p -> all.addObject().put("name", p.name()).put("role", p.role().wire()));
    return n;
  }

  /** A link for a person, or a token for a machine; told this once. */
  private void made(Context c, boolean person) {
    Person by = guard.acts(c, Role.ADMINISTER);
    Asked asked = Asked.of(c);
    Role role = asked.one("role", Role.values(), Role::wire);
    if (person && role == Role.FEED) {
      throw new Refused(400, "feed is for machines; a person may look, operate or administer");
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
    String name = Asked.of(c).needed("name", 200);
    if (name.equals(by.name())) {
      throw new Refused(400, "nobody removes themselves; ask another administrator");
    }
    people.remove(name, by.name());
    Answers.json(c, JSON.createObjectNode().put("removed", name));
  }
}

package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import stillwatch.alerts.people.Person;
import stillwatch.alerts.people.Role;

/**
 * Sets up what people may post: guarded, described in the interface's document, answered as JSON.
 * Only the thread that sets the room up uses it.
 */
final class Posts {
  private final RoutesConfig routes;
  private final Guard guard;
  private final ApiDocument document;

  Posts(RoutesConfig routes, Guard guard, ApiDocument document) {
    this.routes = routes;
    this.guard = guard;
    this.document = document;
  }

  /** Something somebody does. */
  interface Action {
    ObjectNode by(Person person, RequestBody asked, Context c);
  }

  /**
   * Takes an action of whoever may.
   *
   * @param fields what the body holds, each {@code name:type}, with a question mark where it may be
   *     left out
   */
  void add(String path, Role role, String summary, Action doing, String... fields) {
    document.add("post", path, role, summary, fields);
    routes.post(
        path,
        c -> {
          Person person = guard.acts(c, role);
          Answers.json(c, doing.by(person, RequestBody.of(c), c));
        });
  }
}

package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.people.Role;

/**
 * The room's interface as an OpenAPI 3.1 document, made of the routes as they are set up. Only the
 * thread that sets the room up adds to it.
 */
final class ApiDocument {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final ObjectNode document = JSON.createObjectNode();
  private final ObjectNode paths;

  ApiDocument() {
    document.put("openapi", "3.1.0");
    document
        .putObject("info")
        .put("title", "Stillwatch room")
        .put("version", "1")
        .put(
            "description",
            "What the operations-room page speaks. Everything that acts wants a header Idempotency-Key, new for each action; from a page also X-Stillwatch-Guard, which /api/me tells.");
    paths = document.putObject("paths");
    ObjectNode schemes = document.putObject("components").putObject("securitySchemes");
    schemes.putObject("page").put("type", "apiKey").put("in", "cookie").put("name", "stillwatch");
    schemes.putObject("machine").put("type", "http").put("scheme", "bearer");
  }

  /**
   * Adds a route.
   *
   * @param role who may; null for anybody
   * @param fields of the body, each {@code name:type}, with {@code ?} where it may be left out
   */
  void add(String method, String path, @Nullable Role role, String summary, String... fields) {
    ObjectNode operation =
        paths.withObject("/" + path.replace("~", "~0").replace("/", "~1")).putObject(method);
    operation.put("summary", summary);
    if (role != null) {
      restrict(operation, role);
    }
    if (path.contains("{id}")) {
      ObjectNode id = operation.putArray("parameters").addObject();
      id.put("name", "id").put("in", "path").put("required", true);
      id.putObject("schema").put("type", "string");
    }
    if (method.equals("post")) {
      body(operation, fields);
    }
    answers(operation.putObject("responses"));
  }

  private static void restrict(ObjectNode operation, Role role) {
    operation.put("description", "For those who may " + role.wire() + ".");
    ArrayNode security = operation.putArray("security");
    security.addObject().putArray("page");
    security.addObject().putArray("machine");
  }

  private static void answers(ObjectNode answers) {
    answers.putObject("200").put("description", "Done, or what was asked for.");
    answers
        .putObject("4XX")
        .put("description", "Refused: {\"fault\": \"one sentence, what and how to mend it\"}.");
  }

  private static void body(ObjectNode operation, String... fields) {
    ObjectNode schema =
        operation
            .putObject("requestBody")
            .put("required", true)
            .putObject("content")
            .putObject("application/json")
            .putObject("schema");
    schema.put("type", "object");
    ObjectNode properties = schema.putObject("properties");
    ArrayNode required = schema.putArray("required");
    for (String field : fields) {
      String[] part = field.toLowerCase(Locale.ROOT).split(":", -1);
      properties.putObject(part[0]).put("type", part[1].replace("?", ""));
      if (!part[1].endsWith("?")) {
        required.add(part[0]);
      }
    }
  }

  /** The document. */
  ObjectNode json() {
    return document;
  }
}

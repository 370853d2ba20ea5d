package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Dimension;
import stillwatch.rules.book.Priority;

/** Makes the routes of a plan's {@code routes}. */
final class RoutesBinder {
  private final YamlTree tree;
  private final PlanQuantities quantities;
  private final Set<String> names = new HashSet<>();

  RoutesBinder(YamlTree tree) {
    this.tree = tree;
    quantities = new PlanQuantities(tree);
  }

  private interface Making {
    RoutePlan.@Nullable Way of(JsonNode node, String at);
  }

  List<RoutePlan> bind() {
    List<RoutePlan> all = new ArrayList<>();
    list(all, "webhooks", this::webhook);
    list(all, "mail", this::mail);
    list(all, "mqtt", this::mqtt);
    list(all, "syslog", this::syslog);
    return List.copyOf(all);
  }

  private void list(List<RoutePlan> into, String kind, Making making) {
    JsonNode list = tree.root().path("routes").path(kind);
    for (int i = 0; i < list.size(); i++) {
      JsonNode r = list.get(i);
      String at = "/routes/" + kind + "/" + i;
      String name = r.path("name").asText();
      if (!names.add(name)) {
        tree.fault(at + "/name", "route '" + name + "' stands twice; give one another name");
      }
      RoutePlan.Way way = making.of(r, at);
      if (way != null) {
        into.add(
            new RoutePlan(
                name,
                way,
                priority(r),
                duration(r, at, "after"),
                duration(r, at, "repeat"),
                duration(r, at, "digest")));
      }
    }
  }

  private static Priority priority(JsonNode r) {
    String from = r.path("from").asText("low");
    return Arrays.stream(Priority.values())
        .filter(p -> p.wire().equals(from))
        .findFirst()
        .orElse(Priority.LOW);
  }

  private @Nullable Duration duration(JsonNode r, String at, String key) {
    if (!r.has(key)) {
      return null;
    }
    double s = quantities.of(r, at, key, Dimension.DURATION, 1);
    if (s <= 0) {
      tree.fault(at + "/" + key, "must be longer than zero");
    }
    return Duration.ofMillis(Math.round(s * 1000));
  }

  private static @Nullable Path file(JsonNode r, String key) {
    return r.hasNonNull(key) ? Path.of(r.path(key).asText()) : null;
  }

  private static @Nullable String text(JsonNode r, String key) {
    return r.hasNonNull(key) ? r.path(key).asText() : null;
  }

  private RoutePlan.@Nullable Way webhook(JsonNode r, String at) {
    try {
      return new RoutePlan.Webhook(URI.create(r.path("url").asText()), file(r, "secret-file"));
    } catch (IllegalArgumentException e) {
      tree.fault(at + "/url", "'" + r.path("url").asText() + "' is no address");
      return null;
    }
  }

  private RoutePlan.@Nullable Way mail(JsonNode r, String at) {
    String[] server = server(r, at);
    List<String> to = new ArrayList<>();
    r.path("to").forEach(t -> to.add(t.asText()));
    return server == null
        ? null
        : new RoutePlan.Mail(
            server[0],
            Integer.parseInt(server[1]),
            r.path("tls").asBoolean(),
            r.path("sender").asText(),
            List.copyOf(to),
            text(r, "user"),
            file(r, "password-file"));
  }

  private RoutePlan.Way mqtt(JsonNode r, String at) {
    return new RoutePlan.Mqtt(
        r.path("server").asText(),
        r.path("topic").asText("stillwatch"),
        text(r, "user"),
        file(r, "password-file"));
  }

  private RoutePlan.@Nullable Way syslog(JsonNode r, String at) {
    String[] server = server(r, at);
    return server == null
        ? null
        : new RoutePlan.Syslog(server[0], Integer.parseInt(server[1]), r.path("tls").asBoolean());
  }

  /** Host and port; null where the text is not both. */
  private String @Nullable [] server(JsonNode r, String at) {
    String text = r.path("server").asText();
    int colon = text.lastIndexOf(':');
    if (colon < 1 || !text.substring(colon + 1).matches("[0-9]{1,5}")) {
      tree.fault(at + "/server", "'" + text + "' is no host:port, like mail.example:25");
      return null;
    }
    return new String[] {text.substring(0, colon), text.substring(colon + 1)};
  }
}

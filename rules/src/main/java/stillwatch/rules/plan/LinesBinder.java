package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.door.LinesPlan;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.intake.OnThisMachine;

/** Makes a source of a plan's {@code sources: lines}. */
final class LinesBinder {
  private final YamlTree tree;
  private final SourcesBinder sources;

  LinesBinder(YamlTree tree, SourcesBinder sources) {
    this.tree = tree;
    this.sources = sources;
  }

  SourcePlan.@Nullable Way bind(JsonNode s, String name, String at) {
    List<LinesPlan.Said> readings = new ArrayList<>();
    for (int i = 0; i < s.path("readings").size(); i++) {
      String here = at + "/readings/" + i;
      JsonNode r = s.path("readings").get(i);
      String pattern = r.path("pattern").asText();
      LinesPlan.faultOf(pattern)
          .ifPresentOrElse(
              why -> tree.fault(here + "/pattern", "source '" + name + "': " + why),
              () -> readings.add(said(r, name, here)));
    }
    LinesPlan.Link link = link(s, "source '" + name + "': ", at);
    return link == null
        ? null
        : new LinesPlan(
            link,
            s.path("framing").asText().equals("sentences"),
            s.path("separator").asText(","),
            List.copyOf(readings));
  }

  private LinesPlan.Said said(JsonNode r, String source, String at) {
    String gauge = r.path("gauge").asText();
    String unit = r.path("unit").asText("");
    var unused = sources.gauge(gauge, unit, source, at + "/gauge");
    return new LinesPlan.Said(
        Pattern.compile(r.path("pattern").asText()),
        gauge,
        r.path("value").asInt(1),
        r.path("time").asInt(0),
        LayoutBinder.timeFormat(r.path("time-format").asText("rfc3339")),
        r.path("quality").asInt(0),
        unit);
  }

  private LinesPlan.@Nullable Link link(JsonNode s, String source, String at) {
    int ways = 0;
    for (String key : List.of("connect", "listen", "device")) {
      ways += s.has(key) ? 1 : 0;
    }
    if (ways != 1) {
      tree.fault(at, source + "say one of 'connect', 'listen' and 'device'");
      return null;
    }
    if (s.has("device")) {
      return new LinesPlan.Device(Path.of(s.path("device").asText()));
    }
    boolean listens = s.has("listen");
    String address = s.path(listens ? "listen" : "connect").asText();
    if (!address.matches("[^ ]+:[0-9]{1,5}")) {
      return null; // the schema tells
    }
    int colon = address.lastIndexOf(':');
    String host = address.substring(0, colon);
    int port = Integer.parseInt(address.substring(colon + 1));
    if (port < 1 || port > 65_535) {
      tree.fault(at, source + "the port of " + address + " must be 1 to 65535");
      return null;
    }
    if (!listens) {
      return new LinesPlan.Connect(host, port);
    }
    Set<String> from = new TreeSet<>();
    s.path("from").forEach(a -> from.add(a.asText()));
    if (from.isEmpty() && !OnThisMachine.loopback(host)) {
      tree.fault(
          at + "/listen",
          source
              + "lines come without a name or a password; say in 'from' from which addresses, or listen at 127.0.0.1");
    }
    return new LinesPlan.Listen(host, port, from);
  }
}

package stillwatch.fieldbus.opcua;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.eclipse.milo.opcua.stack.core.UaRuntimeException;
import org.eclipse.milo.opcua.stack.core.types.builtin.ExpandedNodeId;
import org.jspecify.annotations.Nullable;
import stillwatch.fieldbus.Address;
import stillwatch.fieldbus.Schemas;
import stillwatch.ingest.door.SourceKind;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.door.SourceReading;

/** Sources that subscribe to an OPC UA server, under the key {@code opcua}. */
public final class OpcuaKind implements SourceKind {
  private static final Duration USUAL = Duration.ofSeconds(1);
  private static final Duration SHORTEST = Duration.ofMillis(50);

  @Override
  public String key() {
    return "opcua";
  }

  @Override
  public JsonNode schema() {
    return Schemas.of(key());
  }

  @Override
  public SourcePlan.@Nullable Brought read(JsonNode source, SourceReading plan) {
    Duration every = plan.duration("every", USUAL);
    if (every.compareTo(SHORTEST) < 0) {
      plan.fault("/every", "source '" + plan.name() + "': ask for values at most every 0.05 s");
    }
    security(source, plan);
    List<Item> items = new ArrayList<>();
    Set<String> gauges = new HashSet<>();
    for (int i = 0; i < source.path("gauges").size(); i++) {
      JsonNode g = source.path("gauges").get(i);
      String at = "/gauges/" + i;
      String gauge = g.path("gauge").asText();
      String unit = g.path("unit").asText("");
      if (!gauges.add(gauge)) {
        plan.fault(at, "source '" + plan.name() + "' reads " + gauge + " twice; leave one out");
      }
      node(g.path("node").asText(), gauge, plan, at);
      plan.gauge(gauge, unit, at + "/gauge")
          .ifPresent(kind -> items.add(new Item(gauge, g.path("node").asText(), kind, unit)));
    }
    URI server = Address.of(source.path("server").asText(), "opc.tcp://10.0.0.9:4840", plan);
    return server == null || items.isEmpty()
        ? null
        : new OpcuaPlan(
            server,
            every,
            source.path("security").asText(OpcuaPlan.OPEN),
            source.hasNonNull("user") ? source.path("user").asText() : null,
            path(source, "password-file"),
            path(source, "certificate-file"),
            path(source, "key-file"),
            path(source, "trust-file"),
            List.copyOf(items));
  }

  private static @Nullable Path path(JsonNode source, String key) {
    return source.hasNonNull(key) ? Path.of(source.path(key).asText()) : null;
  }

  private static void security(JsonNode source, SourceReading plan) {
    boolean open = source.path("security").asText(OpcuaPlan.OPEN).equals(OpcuaPlan.OPEN);
    String who = "source '" + plan.name() + "': ";
    if (source.has("password-file") != source.has("user")) {
      plan.fault("", who + "user and password-file go together; say both");
    }
    if (open && source.has("user")) {
      plan.fault("/user", who + "a password must not go unencrypted; say 'security' too");
    }
    for (String key : List.of("certificate-file", "key-file", "trust-file")) {
      if (!open && !source.has(key)) {
        plan.fault("/security", who + "security wants '" + key + "'; say it too");
      }
    }
  }

  private static void node(String text, String gauge, SourceReading plan, String at) {
    try {
      var unused = ExpandedNodeId.parse(text);
    } catch (UaRuntimeException e) {
      plan.fault(
          at + "/node",
          "source '%s', gauge '%s': '%s' is no node id; write it like nsu=urn:example:cap;s=port.pressure or ns=2;i=1001"
              .formatted(plan.name(), gauge, text));
    }
  }
}

package stillwatch.fieldbus.modbus;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.URI;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import stillwatch.fieldbus.Address;
import stillwatch.fieldbus.Schemas;
import stillwatch.ingest.door.SourceKind;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.door.SourceReading;

/** Sources that poll registers over Modbus TCP, under the key {@code modbus}. */
public final class ModbusKind implements SourceKind {
  private static final int PORT = 502; // IANA: mbap
  private static final Duration USUAL = Duration.ofSeconds(1);
  private static final Duration SHORTEST = Duration.ofMillis(100);

  @Override
  public String key() {
    return "modbus";
  }

  @Override
  public JsonNode schema() {
    return Schemas.of(key());
  }

  @Override
  public SourcePlan.@Nullable Brought read(JsonNode source, SourceReading plan) {
    Duration every = plan.duration("every", USUAL);
    if (every.compareTo(SHORTEST) < 0) {
      plan.fault("/every", "source '" + plan.name() + "': poll at most every 0.1 s");
    }
    Duration timeout = plan.duration("timeout", USUAL);
    if (timeout.compareTo(SHORTEST) < 0) {
      plan.fault("/timeout", "source '" + plan.name() + "': wait 0.1 s or longer for an answer");
    }
    List<Point> points = new ArrayList<>();
    Set<String> gauges = new HashSet<>();
    for (int i = 0; i < source.path("gauges").size(); i++) {
      Point point = point(source.path("gauges").get(i), source.path("unit-id").asInt(1));
      var unused = plan.gauge(point.gauge(), point.unit(), "/gauges/" + i + "/gauge");
      if (!gauges.add(point.gauge())) {
        plan.fault("/gauges/" + i + "/gauge", twice(plan.name(), point.gauge()));
      }
      if (point.end() > 65_536) {
        plan.fault("/gauges/" + i + "/register", beyond(plan.name(), point));
      }
      points.add(point);
    }
    URI server = Address.of(source.path("server").asText(), "tcp://10.0.0.7:502", plan);
    return server == null || points.isEmpty()
        ? null
        : new ModbusPlan(
            server.getHost(),
            server.getPort() > 0 ? server.getPort() : PORT,
            every,
            timeout,
            List.copyOf(points));
  }

  private static String twice(String source, String gauge) {
    return "source '" + source + "' reads " + gauge + " twice; leave one out";
  }

  private static String beyond(String source, Point p) {
    return "source '%s', gauge '%s': a %s at register %d ends beyond the last register, 65535; correct 'register' or 'type'"
        .formatted(source, p.gauge(), p.form().wire(), p.register());
  }

  private static Point point(JsonNode g, int unitId) {
    String type = g.path("type").asText(NumberForm.FLOAT32.wire());
    return new Point(
        g.path("gauge").asText(),
        g.path("unit-id").asInt(unitId),
        g.path("table").asText().equals("input"),
        g.path("register").asInt(),
        form(type),
        g.path("words").asText().equals("low-first"),
        g.path("bytes").asText().equals("low-first"),
        g.path("scale").asDouble(1),
        g.path("offset").asDouble(0),
        g.hasNonNull("not-a-value")
            ? OptionalDouble.of(g.path("not-a-value").asDouble())
            : OptionalDouble.empty(),
        g.path("unit").asText(""));
  }

  /** A type that the schema has refused is told there. */
  private static NumberForm form(String type) {
    try {
      return NumberForm.of(type);
    } catch (IllegalArgumentException e) {
      return NumberForm.FLOAT32;
    }
  }
}

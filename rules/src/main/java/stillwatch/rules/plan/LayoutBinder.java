package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.DateTimeException;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.recording.RecordingLayout;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.UnitException;
import stillwatch.ingest.unit.Units;

/** Makes what a plan says of how files of readings are laid out. */
final class LayoutBinder {
  private final YamlTree tree;
  private final List<GaugePlan> gauges;

  LayoutBinder(YamlTree tree, List<GaugePlan> gauges) {
    this.tree = tree;
    this.gauges = gauges;
  }

  /**
   * Makes one.
   *
   * @param place where it stands in the plan, as a JSON pointer
   */
  RecordingLayout bind(JsonNode r, String place) {
    boolean wide = r.path("shape").asText("wide").equals("wide");
    List<RecordingLayout.Column> columns = new ArrayList<>();
    List<String> ids = gauges.stream().map(GaugePlan::id).toList();
    for (Map.Entry<String, JsonNode> e : r.path("columns").properties()) {
      String at = place + "/columns/" + e.getKey();
      GaugePlan gauge =
          gauges.stream().filter(g -> g.id().equals(e.getKey())).findFirst().orElse(null);
      if (gauge == null) {
        tree.faultAtKey(
            at,
            "there is no gauge '" + e.getKey() + "' in this plan" + Nearest.hint(e.getKey(), ids));
        continue;
      }
      JsonNode c = e.getValue();
      String unit = c.hasNonNull("unit") ? c.path("unit").asText() : gauge.unit();
      if (c.hasNonNull("unit")) {
        unit(gauge.kind(), c.path("unit").asText(), at + "/unit");
      }
      columns.add(
          new RecordingLayout.Column(
              c.isTextual() ? c.asText() : c.path("column").asText(),
              gauge.id(),
              gauge.kind(),
              unit,
              text(c, "quality"),
              c.hasNonNull("unit")));
    }
    if (!wide) {
      for (String key : List.of("gauge-column", "value-column")) {
        if (!r.has(key) && !r.isMissingNode()) {
          tree.faultAtKey(place, "files of shape long need '" + key + "'");
        }
      }
    }
    return new RecordingLayout(
        tree.root().path("well").asText(),
        wide ? RecordingLayout.Shape.WIDE : RecordingLayout.Shape.LONG,
        time(r.path("time"), place + "/time"),
        text(r, "received"),
        text(r, "operation"),
        List.copyOf(columns),
        text(r, "gauge-column"),
        text(r, "value-column"),
        text(r, "quality-column"));
  }

  private RecordingLayout.TimeColumn time(JsonNode t, String at) {
    String pattern = text(t, "pattern");
    RecordingLayout.TimeFormat format = timeFormat(t.path("format").asText("rfc3339"));
    if (format == RecordingLayout.TimeFormat.PATTERN) {
      if (pattern == null) {
        tree.faultAtKey(at, "times of format pattern need 'pattern'");
      } else {
        try {
          var unused = java.time.format.DateTimeFormatter.ofPattern(pattern, Locale.ROOT);
        } catch (IllegalArgumentException e) {
          tree.fault(at + "/pattern", "'" + pattern + "' is no time pattern: " + e.getMessage());
        }
      }
    }
    ZoneId zone = zone(t.path("zone"), at + "/zone");
    return new RecordingLayout.TimeColumn(t.path("column").asText(), format, pattern, zone);
  }

  /** How times are written, as a plan says it; what the schema has refused counts as RFC 3339. */
  static RecordingLayout.TimeFormat timeFormat(String said) {
    String form = said.toUpperCase(Locale.ROOT).replace('-', '_');
    return Arrays.stream(RecordingLayout.TimeFormat.values())
        .filter(f -> f.name().equals(form))
        .findFirst()
        .orElse(RecordingLayout.TimeFormat.RFC3339);
  }

  /** A time zone by its name; UTC where none is said. */
  ZoneId zone(JsonNode name, String at) {
    try {
      return ZoneId.of(name.asText("UTC"));
    } catch (DateTimeException e) {
      tree.fault(
          at, "there is no time zone '" + name.asText() + "'; write it like Europe/Oslo or UTC");
      return ZoneId.of("UTC");
    }
  }

  private void unit(Kind kind, String unit, String at) {
    try {
      var unused = Units.of(kind, unit);
    } catch (UnitException e) {
      tree.fault(at, String.valueOf(e.getMessage()));
    }
  }

  private static @Nullable String text(JsonNode node, String key) {
    return node.hasNonNull(key) ? node.path(key).asText() : null;
  }
}

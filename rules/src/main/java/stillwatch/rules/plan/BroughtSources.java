package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.door.SourceKind;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.door.SourceReading;
import stillwatch.ingest.unit.Dimension;
import stillwatch.ingest.unit.Kind;

/** Reads the sources whose kinds another artifact brings, where it is there. */
final class BroughtSources {
  /** The kinds that {@link #ARTIFACT} brings. */
  static final List<String> KEYS = List.of("modbus", "opcua");

  private static final String ARTIFACT = "stillwatch-fieldbus";

  private final YamlTree tree;
  private final Gauges gauges;

  /** Where a gauge that a source names is looked up, and a mistake about it told. */
  interface Gauges {
    Optional<Kind> of(String id, String unit, String source, String at);
  }

  BroughtSources(YamlTree tree, Gauges gauges) {
    this.tree = tree;
    this.gauges = gauges;
  }

  /** The way of a source of this kind; null where it is too wrong, or the artifact is not there. */
  SourcePlan.@Nullable Brought way(String kind, JsonNode source, String name, String at) {
    Optional<SourceKind> brought = SourceKind.of(kind);
    if (brought.isEmpty()) {
      tree.faultAtKey(
          at.substring(0, at.lastIndexOf('/')),
          "source '%s': %s wants the artifact %s, which is not there; put its jar and those beside it into the folder 'fieldbus' of what is installed, or take the source out"
              .formatted(name, kind, ARTIFACT));
      return null;
    }
    return brought.get().read(source, reading(source, name, at));
  }

  private SourceReading reading(JsonNode source, String name, String at) {
    return new SourceReading() {
      @Override
      public String well() {
        return tree.root().path("well").asText();
      }

      @Override
      public String name() {
        return name;
      }

      @Override
      public void fault(String within, String message) {
        tree.fault(at + within, message);
      }

      @Override
      public Optional<Kind> gauge(String id, String unit, String within) {
        return gauges.of(id, unit, name, at + within);
      }

      @Override
      public Duration duration(String key, Duration otherwise) {
        double s =
            new PlanQuantities(tree)
                .of(source, at, key, Dimension.DURATION, otherwise.toMillis() / 1000.0);
        return Duration.ofMillis(Math.round(s * 1000));
      }
    };
  }
}

package stillwatch.ingest.intake;

import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Map;
import stillwatch.ingest.unit.Kind;

/** An intake of one well "w" with one gauge of pressure, "P" in kPa, for tests. */
final class OneWell {
  /** The schema of a line, as it is published. */
  static final Schema SCHEMA =
      SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
          .getSchema(new String(Reception.schema(), StandardCharsets.UTF_8), InputFormat.JSON);

  private OneWell() {}

  static LineReader reader() {
    return new LineReader(
        Map.of(
            "w",
            new IntakeWell(
                "w",
                Map.of("P", new IntakeWell.Gauge(Kind.PRESSURE, "kPa")),
                Duration.ofMinutes(2))));
  }
}

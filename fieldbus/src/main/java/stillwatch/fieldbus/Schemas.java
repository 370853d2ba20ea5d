package stillwatch.fieldbus;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;

/** What plans may say of the sources of this artifact. */
public final class Schemas {
  private Schemas() {}

  /** The JSON Schema of the kind of source with this key. */
  public static JsonNode of(String key) {
    try (InputStream in =
        Schemas.class.getResourceAsStream("/stillwatch/fieldbus/" + key + ".schema.json")) {
      if (in == null) {
        throw new IllegalStateException(
            "the schema of " + key + " sources is missing from the artifact; build it again");
      }
      return new ObjectMapper().readTree(in);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read the schema of " + key + " sources", e);
    }
  }
}

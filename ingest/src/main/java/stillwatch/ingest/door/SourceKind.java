package stillwatch.ingest.door;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.Optional;
import java.util.ServiceLoader;
import org.jspecify.annotations.Nullable;

/**
 * A kind of source that an artifact beside the program brings, with the libraries that it wants: a
 * service of {@link ServiceLoader}. Where the artifact is not on the class path, a plan that names
 * the kind is told so.
 */
public interface SourceKind {
  /** The key under {@code sources} in a plan, for example {@code modbus}. */
  String key();

  /** The JSON Schema (2020-12) of one source of this kind, but for its name. */
  JsonNode schema();

  /**
   * Reads what a plan says of one source.
   *
   * @param source what stands there; the schema may have refused it already
   * @param plan the plan around it, which is told the mistakes
   * @return null where it is too wrong to be a way
   */
  SourcePlan.@Nullable Brought read(JsonNode source, SourceReading plan);

  /** The kinds whose artifacts are there. */
  static List<SourceKind> all() {
    return ServiceLoader.load(SourceKind.class).stream().map(ServiceLoader.Provider::get).toList();
  }

  /** The kind with this key; empty where its artifact is not there. */
  static Optional<SourceKind> of(String key) {
    return all().stream().filter(k -> k.key().equals(key)).findFirst();
  }
}

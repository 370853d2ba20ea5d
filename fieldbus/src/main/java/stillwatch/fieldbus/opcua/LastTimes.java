package stillwatch.fieldbus.opcua;

import com.fasterxml.jackson.core.type.TypeReference;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.OptionalLong;
import java.util.TreeMap;
import stillwatch.ingest.door.WholeFile;

/**
 * Until when the readings of each gauge are kept, on disk: one small file, written anew. What it
 * has not heard of yet when the process is killed comes again, and is known. Not thread-safe.
 */
final class LastTimes {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final Path file;
  private final Map<String, Long> times;
  private boolean changed;

  private LastTimes(Path file, Map<String, Long> times) {
    this.file = file;
    this.times = times;
  }

  /**
   * Opens them; none where there is no such file.
   *
   * @throws IOException when it cannot be read, in a sentence
   */
  static LastTimes open(Path file) throws IOException {
    WholeFile.makeFolder(file);
    if (!Files.exists(file)) {
      return new LastTimes(file, new TreeMap<>());
    }
    try {
      Map<String, Long> kept = JSON.readValue(file.toFile(), new TypeReference<>() {});
      return new LastTimes(file, new TreeMap<>(kept));
    } catch (IOException e) {
      throw new IOException(
          file
              + " does not say until when readings are kept; remove it, and the history before now is not asked for",
          e);
    }
  }

  /** Of this gauge, ms since 1970 UTC. */
  OptionalLong of(String gauge) {
    Long at = times.get(gauge);
    return at == null ? OptionalLong.empty() : OptionalLong.of(at);
  }

  /** Whatever comes after that time is wanted, where nothing is kept yet. */
  void begin(String gauge, long atMs) {
    changed |= times.putIfAbsent(gauge, atMs) == null;
  }

  /** A reading of that time is kept. */
  void kept(String gauge, long atMs) {
    changed |= times.merge(gauge, atMs, Math::max) == atMs;
  }

  /** Writes them, where any is new; returns when the disk has them. */
  void write() throws IOException {
    if (!changed) {
      return;
    }
    WholeFile.write(file, JSON.writeValueAsBytes(times));
    changed = false;
  }
}

package stillwatch.ingest.spool;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * The files of one spool: its id, the file that is written to, and the one before it, whose
 * messages the broker has acknowledged all. A file is there whole or not at all.
 */
final class SpoolFolder {
  private static final Pattern ID = Pattern.compile("[0-9a-f-]{36}");

  private static final String SUFFIX = ".messages";

  private final Path folder;
  private final String id;
  private Path current;
  private Optional<Path> before = Optional.empty();

  private SpoolFolder(Path folder, String id, Path current) {
    this.folder = folder;
    this.id = id;
    this.current = current;
  }

  /** Opens a folder, or makes it; files older than the two it needs are deleted. */
  static SpoolFolder open(Path folder) throws IOException {
    Files.createDirectories(folder);
    String id = id(folder);
    List<Path> files = files(folder);
    int last = files.size() - 1;
    SpoolFolder opened =
        new SpoolFolder(folder, id, files.isEmpty() ? named(folder, 0) : files.get(last));
    for (Path f : files) {
      if (last > 0 && f.equals(files.get(last - 1))) {
        opened.before = Optional.of(f);
      } else if (!f.equals(opened.current)) {
        Files.delete(f);
      }
    }
    return opened;
  }

  private static String id(Path folder) throws IOException {
    Path id = folder.resolve("id");
    if (!Files.exists(id) || text(id).isBlank()) { // as a power cut may leave it
      Path half = folder.resolve("id.half");
      Files.writeString(
          half,
          UUID.randomUUID().toString(),
          StandardOpenOption.CREATE,
          StandardOpenOption.TRUNCATE_EXISTING,
          StandardOpenOption.WRITE,
          StandardOpenOption.SYNC);
      Files.move(half, id, StandardCopyOption.ATOMIC_MOVE);
    }
    String known = text(id).strip();
    if (!ID.matcher(known).matches()) {
      throw new IOException(
          id
              + ": is damaged; put back a copy, or delete it, and what the spool still holds may be in the log twice");
    }
    return known;
  }

  private static String text(Path file) throws IOException {
    return Files.readString(file, StandardCharsets.ISO_8859_1); // of whatever bytes
  }

  private static List<Path> files(Path folder) throws IOException {
    try (Stream<Path> all = Files.list(folder)) {
      return all.filter(f -> f.toString().endsWith(SUFFIX)).sorted().toList();
    }
  }

  private static Path named(Path folder, long first) {
    return folder.resolve("%019d%s".formatted(first, SUFFIX));
  }

  /** Tells this spool's messages from those of others on a topic. */
  String id() {
    return id;
  }

  /** The file that is written to. */
  Path current() {
    return current;
  }

  /** The file that was written to before. */
  Optional<Path> before() {
    return before;
  }

  /** The number of the message before those that were appended to the current file. */
  long first() {
    String name = String.valueOf(current.getFileName());
    return Long.parseLong(name.substring(0, name.length() - SUFFIX.length()));
  }

  /** Begins a new file with the last message of the current one, so that number and time go on. */
  SpoolFile begin(SpoolFile.Entry last) throws IOException {
    Path half = folder.resolve("half");
    Files.deleteIfExists(half);
    try (SpoolFile begun = SpoolFile.open(half)) {
      begun.append(last.number(), last.message());
      begun.force();
    }
    Path fresh = named(folder, last.number());
    Files.move(half, fresh, StandardCopyOption.ATOMIC_MOVE);
    SpoolFile opened = SpoolFile.open(fresh);
    if (before.isPresent()) {
      Files.deleteIfExists(before.get());
    }
    before = Optional.of(current);
    current = fresh;
    return opened;
  }

  @Override
  public String toString() {
    return folder.toString();
  }
}

package stillwatch.ingest.door;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * How far files have been read, on disk: a line for each time that one was read further, of which
 * the last counts, forced to the disk. A line that a power cut has torn is left out. Not
 * thread-safe.
 */
final class Positions implements AutoCloseable {
  private static final int MOST_FILES = 10_000;
  private static final Pattern LINE =
      Pattern.compile("([0-9a-f]+) ([0-9]{1,18}) ([0-9]{1,18}) \\.");

  private final Path file;
  private final Map<String, Position> all = new LinkedHashMap<>(16, 0.75f, true);
  private FileChannel log;
  private int lines;

  /**
   * A place in a file, between two of its lines.
   *
   * @param bytes how many bytes of its text come before, unpacked
   * @param lines how many lines
   */
  record Position(long bytes, long lines) {}

  private Positions(Path file) throws IOException {
    this.file = file;
    if (Files.exists(file)) {
      for (String line : Files.readAllLines(file, StandardCharsets.ISO_8859_1)) {
        Matcher m = LINE.matcher(line);
        if (m.matches()) {
          keep(m.group(1), new Position(Long.parseLong(m.group(2)), Long.parseLong(m.group(3))));
        }
      }
    }
    log = written();
  }

  /**
   * Opens them.
   *
   * @param file holds them; made, with its folder, where there is none
   */
  static Positions open(Path file) throws IOException {
    Path folder = file.getParent();
    if (folder != null) {
      Files.createDirectories(folder);
    }
    return new Positions(file);
  }

  /** How far the file of that name has been read; empty for one that has not been. */
  Optional<Position> of(String name) {
    return Optional.ofNullable(all.get(name));
  }

  /** Notes how far it has been read; returns when the disk has it. */
  void put(String name, Position position) throws IOException {
    keep(name, position);
    write(log, name, position);
    log.force(false);
    if (++lines > 2 * MOST_FILES) {
      log.close();
      log = written();
    }
  }

  private void keep(String name, Position position) {
    all.put(name, position);
    if (all.size() > MOST_FILES) { // the one that was longest not asked for
      var oldest = all.entrySet().iterator();
      oldest.next();
      oldest.remove();
    }
  }

  /** A new file of all, in place of the old one. */
  private FileChannel written() throws IOException {
    Path fresh = file.resolveSibling(file.getFileName() + ".new");
    FileChannel made =
        FileChannel.open(
            fresh,
            StandardOpenOption.CREATE,
            StandardOpenOption.TRUNCATE_EXISTING,
            StandardOpenOption.WRITE);
    for (Map.Entry<String, Position> e : all.entrySet()) {
      write(made, e.getKey(), e.getValue());
    }
    made.force(true);
    Files.move(fresh, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    lines = all.size();
    return made;
  }

  private static void write(FileChannel into, String name, Position p) throws IOException {
    String line = name + " " + p.bytes() + " " + p.lines() + " .\n";
    ByteBuffer bytes = ByteBuffer.wrap(line.getBytes(StandardCharsets.ISO_8859_1));
    while (bytes.hasRemaining()) {
      into.write(bytes);
    }
  }

  @Override
  public void close() throws IOException {
    log.close();
  }
}

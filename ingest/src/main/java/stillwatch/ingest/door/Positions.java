package stillwatch.ingest.door;

import java.io.IOException;
import java.nio.file.Path;
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

  private final Map<String, Position> all = new LinkedHashMap<>(16, 0.75f, true);
  private final LineLog log;
  private int lines;

  /**
   * A place in a file, between two of its lines.
   *
   * @param bytes how many bytes of its text come before, unpacked
   * @param lines how many lines
   */
  record Position(long bytes, long lines) {}

  private Positions(Path file) throws IOException {
    for (String line : LineLog.read(file)) {
      Matcher m = LINE.matcher(line);
      if (m.matches()) {
        keep(m.group(1), new Position(Long.parseLong(m.group(2)), Long.parseLong(m.group(3))));
      }
    }
    log = LineLog.begin(file, written());
  }

  /**
   * Opens them.
   *
   * @param file holds them; made, with its folder, where there is none
   */
  static Positions open(Path file) throws IOException {
    WholeFile.makeFolder(file);
    return new Positions(file);
  }

  /** How far the file of that name has been read; empty for one that has not been. */
  Optional<Position> of(String name) {
    return Optional.ofNullable(all.get(name));
  }

  /** Notes how far it has been read; returns when the disk has it. */
  void put(String name, Position position) throws IOException {
    keep(name, position);
    log.add(line(name, position));
    if (++lines > 2 * MOST_FILES) {
      log.renew(written());
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

  /** All of them as lines. */
  private CharSequence written() {
    StringBuilder text = new StringBuilder();
    all.forEach((name, position) -> text.append(line(name, position)));
    lines = all.size();
    return text;
  }

  private static String line(String name, Position p) {
    return name + " " + p.bytes() + " " + p.lines() + " .\n";
  }

  @Override
  public void close() throws IOException {
    log.close();
  }
}

package stillwatch.ingest.door;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;

/**
 * A file of short lines that are added, and written anew when there are too many. Whoever reads
 * them tells half a line, left by a kill, by its end. Not thread-safe.
 */
final class LineLog implements AutoCloseable {
  private final Path file;
  private FileChannel log;

  private LineLog(Path file, FileChannel log) {
    this.file = file;
    this.log = log;
  }

  /** The lines that a file has; none where there is no file. */
  static List<String> read(Path file) throws IOException {
    return Files.exists(file) ? Files.readAllLines(file, StandardCharsets.ISO_8859_1) : List.of();
  }

  /** Begins it anew with these lines; its folder must be there. */
  static LineLog begin(Path file, CharSequence lines) throws IOException {
    return new LineLog(file, renewed(file, lines));
  }

  /** Adds lines; returns when the disk has them. */
  void add(CharSequence lines) throws IOException {
    WholeFile.write(log, bytes(lines));
    log.force(false);
  }

  /** Only these lines from here on. */
  void renew(CharSequence lines) throws IOException {
    log.close();
    log = renewed(file, lines);
  }

  private static FileChannel renewed(Path file, CharSequence lines) throws IOException {
    WholeFile.write(file, bytes(lines));
    return FileChannel.open(file, StandardOpenOption.WRITE, StandardOpenOption.APPEND);
  }

  private static byte[] bytes(CharSequence lines) {
    return lines.toString().getBytes(StandardCharsets.ISO_8859_1);
  }

  @Override
  public void close() throws IOException {
    log.close();
  }
}

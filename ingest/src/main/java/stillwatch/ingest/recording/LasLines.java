package stillwatch.ingest.recording;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;

/**
 * The lines of a LAS file that say something: neither blank nor a comment, without blanks at their
 * ends. Memory is one line. Not thread-safe.
 */
final class LasLines {
  private static final int LONGEST = 1 << 16;

  private final Path file;
  private final InputStream in;
  private final byte[] bytes = new byte[LONGEST];
  private long line;
  private long readTo;
  private @Nullable String ahead;

  LasLines(Path file, InputStream in) {
    this.file = file;
    this.in = in;
  }

  /** The next; null at the end. */
  @Nullable String next() throws IOException {
    String next = ahead == null ? read() : ahead;
    ahead = null;
    line = readTo;
    return next;
  }

  /** What {@link #next()} will give. */
  @Nullable String peek() throws IOException {
    if (ahead == null) {
      ahead = read();
    }
    return ahead;
  }

  /** The number of the line that {@link #next()} gave last, from 1. */
  long line() {
    return line;
  }

  /** That line's place in the file, to begin a sentence with. */
  String here() {
    return at(line);
  }

  /** The place of a line of the file, to begin a sentence with. */
  String at(long number) {
    return file.getFileName() + ":" + number + ": ";
  }

  private @Nullable String read() throws IOException {
    for (int first = in.read(); first >= 0; first = in.read()) {
      int length = 0;
      for (int b = first; b >= 0 && b != '\n'; b = in.read()) {
        if (length == LONGEST) {
          throw new RecordingException(
              "%s: line %s is longer than %s bytes; this is no LAS file"
                  .formatted(file, readTo + 1, LONGEST));
        }
        bytes[length++] = (byte) b;
      }
      readTo++;
      String text = new String(bytes, 0, length, StandardCharsets.UTF_8).strip();
      if (!text.isEmpty() && text.charAt(0) != '#') {
        return text;
      }
    }
    return null;
  }
}

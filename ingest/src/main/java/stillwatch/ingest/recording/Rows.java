package stillwatch.ingest.recording;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/**
 * Rows of a separated text, one at a time, as places in a buffer. A cell in double quotes may hold
 * the separator and doubled quotes, not a line end. Memory is one buffer, whatever the file. Not
 * thread-safe.
 */
final class Rows {
  private static final int LONGEST = 1 << 20;

  private final InputStream in;
  private byte[] buffer = new byte[1 << 16];
  private int position;
  private int limit;
  private boolean ended;
  private long line;
  private byte separator = ',';
  private int[] from = new int[64];
  private int[] to = new int[64];
  private int cells;

  Rows(InputStream in) {
    this.in = in;
  }

  /**
   * Guesses the separator of the next row: whichever of comma, semicolon and tab it has most of.
   */
  void guessSeparator() throws IOException {
    int end = lineEnd();
    int[] counts = new int[128];
    for (int i = position; i < end; i++) {
      if (buffer[i] > 0) {
        counts[buffer[i]]++;
      }
    }
    separator = (byte) (counts[';'] > counts[','] ? ';' : ',');
    separator = counts['\t'] > counts[separator] ? (byte) '\t' : separator;
  }

  /** Moves to the next row that is not blank; false at the end. */
  boolean next() throws IOException {
    while (true) {
      int end = lineEnd();
      if (end == position && ended && position >= limit) {
        return false;
      }
      int start = position;
      position = Math.min(limit, end + 1);
      line++;
      if (end > start && buffer[end - 1] == '\r') {
        end--;
      }
      if (end > start) {
        split(start, end);
        return true;
      }
    }
  }

  private void split(int start, int end) {
    cells = 0;
    int i = start;
    while (true) {
      if (cells == from.length) {
        from = Arrays.copyOf(from, 2 * cells);
        to = Arrays.copyOf(to, 2 * cells);
      }
      if (i < end && buffer[i] == '"') {
        i = quoted(i + 1, end);
      } else {
        from[cells] = i;
        while (i < end && buffer[i] != separator) {
          i++;
        }
        to[cells] = i;
        trim();
        cells++;
      }
      if (i >= end) {
        return;
      }
      i++;
    }
  }

  /**
   * Takes a quoted cell, closing up doubled quotes in place; returns the place of the separator
   * after it.
   */
  private int quoted(int start, int end) {
    int write = start;
    int i = start;
    while (i < end) {
      if (buffer[i] == '"') {
        if (i + 1 < end && buffer[i + 1] == '"') {
          i++;
        } else {
          break;
        }
      }
      buffer[write++] = buffer[i++];
    }
    from[cells] = start;
    to[cells++] = write;
    while (i < end && buffer[i] != separator) {
      i++;
    }
    return i;
  }

  private void trim() {
    while (from[cells] < to[cells] && buffer[from[cells]] == ' ') {
      from[cells]++;
    }
    while (from[cells] < to[cells] && buffer[to[cells] - 1] == ' ') {
      to[cells]--;
    }
  }

  private int lineEnd() throws IOException {
    int i = position;
    while (true) {
      while (i < limit) {
        if (buffer[i] == '\n') {
          return i;
        }
        i++;
      }
      if (ended) {
        return limit;
      }
      int done = i - position;
      fill();
      i = position + done;
    }
  }

  private void fill() throws IOException {
    if (position > 0) {
      System.arraycopy(buffer, position, buffer, 0, limit - position);
      limit -= position;
      position = 0;
    }
    if (limit == buffer.length) {
      widen();
    }
    int n = in.read(buffer, limit, buffer.length - limit);
    if (n < 0) {
      ended = true;
    } else {
      limit += n;
    }
  }

  private void widen() {
    if (limit >= LONGEST) {
      throw new RecordingException(
          "line %s is longer than %s bytes; this is no table of readings"
              .formatted(line + 1, LONGEST));
    }
    buffer = Arrays.copyOf(buffer, 2 * limit);
  }

  /** The number of the present line, from 1. */
  long line() {
    return line;
  }

  int cells() {
    return cells;
  }

  byte[] bytes() {
    return buffer;
  }

  int from(int cell) {
    return from[cell];
  }

  int to(int cell) {
    return to[cell];
  }

  /** A cell's text; empty when the row has no such cell. */
  String text(int cell) {
    return cell < cells
        ? new String(buffer, from[cell], to[cell] - from[cell], StandardCharsets.UTF_8)
        : "";
  }
}

package stillwatch.ingest.door;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Cuts what comes into lines, blank ones left out. Not thread-safe. */
final class TextLines {
  /** A sentence of IEC 61162-1 has 82 characters at most; others take more. */
  static final int LONGEST = 1024;

  private final InputStream in;
  private final byte[] buffer = new byte[4096];
  private byte[] begun = new byte[0];
  private boolean tooLong;
  private boolean over;

  /** What is the matter with a line. */
  enum Fault {
    NONE,
    /** Only its start is there. */
    TOO_LONG,
    /** The end of all came before its own. */
    BROKEN_OFF
  }

  record Line(byte[] text, Fault fault) {}

  TextLines(InputStream in) {
    this.in = in;
  }

  /** The next ones, as many as are there; waits for one. Empty when there are no more. */
  List<Line> next() throws IOException {
    List<Line> lines = new ArrayList<>();
    while (lines.isEmpty() && !over) {
      int n = in.read(buffer);
      over = n < 0;
      int from = 0;
      for (int i = 0; i < n; i++) {
        if (buffer[i] == '\n' || buffer[i] == '\r') {
          add(from, i);
          end(lines, Fault.NONE);
          from = i + 1;
        }
      }
      add(from, Math.max(from, n));
    }
    if (over) {
      end(lines, Fault.BROKEN_OFF);
    }
    return lines;
  }

  private void add(int from, int to) {
    int keep = Math.min(to - from, LONGEST - begun.length);
    tooLong |= keep < to - from;
    int had = begun.length;
    begun = Arrays.copyOf(begun, had + keep);
    System.arraycopy(buffer, from, begun, had, keep);
  }

  private void end(List<Line> into, Fault otherwise) {
    if (begun.length > 0) {
      into.add(new Line(begun, tooLong ? Fault.TOO_LONG : otherwise));
    }
    begun = new byte[0];
    tooLong = false;
  }
}

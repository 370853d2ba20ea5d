package stillwatch.ingest.door;

import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.security.MessageDigest;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.zip.GZIPInputStream;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.door.Positions.Position;
import stillwatch.ingest.intake.Sha256;
import stillwatch.ingest.recording.Piece;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingLayout;
import stillwatch.ingest.telemetry.Frame;

/**
 * A file that a logger writes or has written. It is known again, whatever it is called now and
 * packed or not, by its header and its first row.
 *
 * @param id says which it is
 * @param firstMs the time of its first row, ms since 1970 UTC
 * @param start where the line after its header begins
 * @param layout how it is laid out, without the gauges that it lacks
 * @param lacks a sentence for each of those
 */
record LoggedFile(
    Path path,
    String id,
    long firstMs,
    byte[] header,
    Position start,
    RecordingLayout layout,
    List<String> lacks) {
  /**
   * Longer lines are none of a logger's. Pieces are no longer either, so that one that comes again
   * after a kill has fewer rows than {@link stillwatch.ingest.intake.Resent} remembers.
   */
  static final int PIECE_BYTES = 64 * 1024;

  private static final int HEAD_BYTES = 64 * 1024;

  /** Takes pieces of it. */
  interface Taking {
    /**
     * Takes whole lines.
     *
     * @param after where the line after them begins
     */
    void piece(Piece piece, Position after) throws IOException, InterruptedException;
  }

  /**
   * Knows a file again.
   *
   * @return empty while it has no whole row whose time can be read
   * @throws stillwatch.ingest.recording.RecordingException when its header lacks a column
   */
  static Optional<LoggedFile> of(Path path, RecordingLayout layout) throws IOException {
    byte[] head = new byte[HEAD_BYTES];
    int read;
    try (InputStream in = text(path, 0)) {
      read = fill(in, head, 0);
    }
    int from = 0;
    for (long line = 1; ; line++) {
      int end = lineEnd(head, from, read);
      if (end < 0) {
        return Optional.empty();
      }
      if (!new String(head, from, end - from, StandardCharsets.UTF_8).isBlank()) {
        byte[] header = Arrays.copyOfRange(head, from, end);
        byte[] rows = Arrays.copyOfRange(head, end + 1, Math.max(end, lastEnd(head, read)) + 1);
        return of(path, layout, header, rows, new Position(end + 1, line));
      }
      from = end + 1;
    }
  }

  private static Optional<LoggedFile> of(
      Path path, RecordingLayout layout, byte[] header, byte[] rows, Position start)
      throws IOException {
    List<RecordingLayout.Column> lacking = Piece.lacking(header, layout);
    RecordingLayout fitting =
        lacking.size() == layout.columns().size() ? layout : layout.without(lacking);
    First first = new First();
    new Piece(path, header, rows, start.lines()).read(fitting, first);
    if (first.line < 0) {
      return Optional.empty();
    }
    byte[] row = line(rows, first.line - start.lines() - 1);
    List<String> lacks =
        lacking.stream()
            .map(
                c ->
                    path
                        + " has no column '"
                        + c.header()
                        + "' of "
                        + c.gauge()
                        + "; correct the layout in the plan, or the logger")
            .toList();
    return Optional.of(
        new LoggedFile(path, id(header, row), first.atMs, header, start, fitting, lacks));
  }

  /** The first row whose time can be read. */
  private static final class First implements Piece.Taking {
    private long line = -1;
    private long atMs;

    @Override
    public void row(long number, long at, @Nullable Frame frame) {
      if (line < 0) {
        line = number;
        atMs = at;
      }
    }

    @Override
    public void wrong(long number, Problems.Sort sort, String why) {
      // told when it is read
    }
  }

  /** The line of that index, from 0. */
  static byte[] line(byte[] lines, long index) {
    int from = 0;
    for (long i = 0; i < index; i++) {
      from = lineEnd(lines, from, lines.length) + 1;
    }
    int end = lineEnd(lines, from, lines.length);
    return Arrays.copyOfRange(lines, from, end < 0 ? lines.length : end);
  }

  private static String id(byte[] header, byte[] row) {
    MessageDigest digest = Sha256.digest();
    digest.update(header);
    digest.update((byte) '\n');
    return HexFormat.of().formatHex(digest.digest(row), 0, 16);
  }

  /**
   * Reads on to its end. A last line without a line end waits for it, but in a packed file that is
   * whole.
   *
   * @param from where it was read to before
   * @throws java.util.zip.ZipException when it is packed, and broken
   */
  void read(Position from, Taking taking) throws IOException, InterruptedException {
    byte[] buffer = new byte[PIECE_BYTES];
    int held = 0;
    Position at = from;
    try (InputStream in = text(path, at.bytes())) {
      boolean packed = in instanceof GZIPInputStream;
      while (true) {
        int read = fill(in, buffer, held);
        boolean over = read < buffer.length;
        int end = over && packed && whole(in) ? read : lastEnd(buffer, read) + 1;
        if (end == 0 && !over) {
          end = read; // one line without an end: it is refused piece by piece
        }
        if (end > 0) {
          byte[] lines = Arrays.copyOf(buffer, end);
          Position after = new Position(at.bytes() + end, at.lines() + count(lines));
          taking.piece(new Piece(path, header, lines, at.lines()), after);
          at = after;
        }
        if (over) {
          return;
        }
        held = read - end;
        System.arraycopy(buffer, end, buffer, 0, held);
      }
    }
  }

  private static boolean whole(InputStream packed) throws IOException {
    try {
      return packed.read() < 0;
    } catch (EOFException e) {
      return false; // it is being written
    }
  }

  private static int count(byte[] lines) {
    int ends = 0;
    for (byte b : lines) {
      ends += b == '\n' ? 1 : 0;
    }
    return ends;
  }

  private static int lineEnd(byte[] text, int from, int to) {
    for (int i = from; i < to; i++) {
      if (text[i] == '\n') {
        return i;
      }
    }
    return -1;
  }

  private static int lastEnd(byte[] text, int to) {
    int i = to - 1;
    while (i >= 0 && text[i] != '\n') {
      i--;
    }
    return i;
  }

  /** Fills the buffer from there on, as far as there is something; how much it then holds. */
  private static int fill(InputStream in, byte[] buffer, int held) throws IOException {
    int to = held;
    try {
      while (to < buffer.length) {
        int n = in.read(buffer, to, buffer.length - to);
        if (n < 0) {
          break;
        }
        to += n;
      }
    } catch (EOFException e) {
      // a packed file that is being written: what is there so far
    }
    return to;
  }

  /** Its text from that byte on, unpacked where it starts as gzip does. */
  private static InputStream text(Path path, long from) throws IOException {
    FileChannel file = FileChannel.open(path, StandardOpenOption.READ);
    try {
      ByteBuffer magic = ByteBuffer.allocate(2);
      file.read(magic, 0);
      if (magic.get(0) != 0x1f || magic.get(1) != (byte) 0x8b) {
        return Channels.newInputStream(file.position(from));
      }
      InputStream in = new GZIPInputStream(Channels.newInputStream(file), 1 << 16);
      in.skipNBytes(from);
      return in;
    } catch (EOFException e) {
      file.close();
      return InputStream.nullInputStream(); // packed, and shorter than it was read before
    } catch (IOException e) {
      file.close();
      throw e;
    }
  }
}

package stillwatch.ingest.recording;

import java.io.BufferedInputStream;
import java.io.Closeable;
import java.io.EOFException;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.zip.GZIPInputStream;
import java.util.zip.ZipException;

/**
 * The text of a file that holds a recording, unpacked where it starts as gzip does (RFC 1952). One
 * thread at a time, but {@link #bytesRead()} may be asked from any.
 */
public final class RecordingFile implements Closeable {
  private final CountingStream counting;
  private final InputStream text;
  private final long size;

  private RecordingFile(CountingStream counting, InputStream text, long size) {
    this.counting = counting;
    this.text = text;
    this.size = size;
  }

  /**
   * Opens it.
   *
   * @throws RecordingException when it cannot be a recording: missing, empty, a folder, broken
   */
  public static RecordingFile open(Path file) throws IOException {
    check(file);
    CountingStream counting = new CountingStream(Files.newInputStream(file));
    try {
      return new RecordingFile(counting, text(counting), Files.size(file));
    } catch (ZipException | EOFException e) {
      counting.close();
      throw new RecordingException(
          file + ": is a broken gzip file (" + e.getMessage() + "); copy it again", e);
    }
  }

  private static void check(Path file) throws IOException {
    if (!Files.exists(file)) {
      throw new RecordingException(file + ": there is no such file");
    }
    if (Files.isDirectory(file)) {
      throw new RecordingException(file + ": is a folder; name a CSV, CSV.gz or LAS file");
    }
    if (Files.size(file) == 0) {
      throw new RecordingException(file + ": is empty; a recording starts with a header row");
    }
  }

  private static InputStream text(InputStream file) throws IOException {
    InputStream in = new BufferedInputStream(file, 1 << 16);
    in.mark(4);
    int first = in.read();
    int second = in.read();
    in.reset();
    return first == 0x1f && second == 0x8b ? new GZIPInputStream(in, 1 << 16) : in;
  }

  /** Its text. */
  public InputStream text() {
    return text;
  }

  /** Bytes of the file read so far. */
  public long bytesRead() {
    return counting.read;
  }

  /** Bytes in the file. */
  public long size() {
    return size;
  }

  @Override
  public void close() throws IOException {
    counting.close();
  }

  /** Counts the bytes taken from the file. */
  private static final class CountingStream extends FilterInputStream {
    private volatile long read;

    CountingStream(InputStream in) {
      super(in);
    }

    @Override
    public int read(byte[] b, int off, int len) throws IOException {
      int n = super.read(b, off, len);
      if (n > 0) {
        long before = read;
        read = before + n;
      }
      return n;
    }
  }
}

package stillwatch.ingest.door;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * How far a table has been read, on disk: the newest time that was taken, and which rows from the
 * window before it on were, so that late ones are told from those. A line that a power cut has torn
 * is left out. Not thread-safe.
 */
final class TakenRows implements AutoCloseable {
  private static final int SPARE_LINES = 20_000;
  private static final Pattern LINE =
      Pattern.compile("([0-9]{1,18}) ([0-9]{1,18}) ([0-9a-f]{16}) \\.");

  private final Path file;
  private final long fromMs;
  private final long windowMs;
  private final NavigableMap<Long, Set<Long>> rows = new TreeMap<>();
  private long newestMs;
  private FileChannel log;
  private int kept;
  private int lines;

  /**
   * A row.
   *
   * @param atMs its time, ms since 1970 UTC
   * @param text all that it says
   */
  record Row(long atMs, String text) {
    private long hash() {
      try {
        byte[] digest =
            MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
        return ByteBuffer.wrap(digest).getLong();
      } catch (NoSuchAlgorithmException e) {
        throw new IllegalStateException("this Java lacks SHA-256, which every Java has", e);
      }
    }
  }

  private TakenRows(Path file, long fromMs, long windowMs) throws IOException {
    this.file = file;
    this.fromMs = fromMs;
    this.windowMs = windowMs;
    newestMs = fromMs;
    if (Files.exists(file)) {
      for (String line : Files.readAllLines(file, StandardCharsets.ISO_8859_1)) {
        Matcher m = LINE.matcher(line);
        if (m.matches()) {
          newestMs = Long.parseLong(m.group(1));
          keep(Long.parseLong(m.group(2)), Long.parseUnsignedLong(m.group(3), 16));
        }
      }
    }
    forgetOld();
    log = written();
  }

  /**
   * Opens them.
   *
   * @param file holds them; made, with its folder, where there is none
   * @param fromMs the earliest time that is ever wanted, ms since 1970 UTC
   * @param window how far back rows are remembered
   */
  static TakenRows open(Path file, long fromMs, Duration window) throws IOException {
    Path folder = file.getParent();
    if (folder != null) {
      Files.createDirectories(folder);
    }
    return new TakenRows(file, fromMs, window.toMillis());
  }

  /**
   * From when on rows are wanted, ms since 1970 UTC: the window before the newest one taken, and
   * never what was not wanted at first.
   */
  long wantedFromMs() {
    return Math.max(fromMs, newestMs - windowMs);
  }

  /** Whether it has been taken. */
  boolean has(Row row) {
    return rows.getOrDefault(row.atMs(), Set.of()).contains(row.hash());
  }

  /**
   * Notes that they have been taken; returns when the disk has it.
   *
   * @param newest the newest time that may be gone by from here on, ms since 1970 UTC
   */
  void add(List<Row> taken, long newest) throws IOException {
    newestMs = Math.max(newestMs, newest);
    if (taken.isEmpty()) {
      forgetOld(); // that alone may be forgotten: it is found again
      return;
    }
    StringBuilder text = new StringBuilder();
    for (Row row : taken) {
      long hash = row.hash();
      keep(row.atMs(), hash);
      line(text, row.atMs(), hash);
    }
    write(log, text);
    log.force(false);
    forgetOld();
    lines += taken.size();
    if (lines > 2 * kept + SPARE_LINES) {
      log.close();
      log = written();
    }
  }

  private void keep(long atMs, long hash) {
    if (rows.computeIfAbsent(atMs, at -> new HashSet<>()).add(hash)) {
      kept++;
    }
  }

  private void forgetOld() {
    Map<Long, Set<Long>> old = rows.headMap(wantedFromMs());
    kept -= old.values().stream().mapToInt(Set::size).sum();
    old.clear();
  }

  private void line(StringBuilder into, long atMs, long hash) {
    into.append(newestMs).append(' ').append(atMs).append(' ');
    into.append("%016x".formatted(hash)).append(" .\n");
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
    StringBuilder text = new StringBuilder();
    line(text, 0, 0); // how far, where no row is remembered
    rows.forEach((atMs, hashes) -> hashes.forEach(hash -> line(text, atMs, hash)));
    write(made, text);
    made.force(true);
    Files.move(fresh, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    lines = kept;
    return made;
  }

  private static void write(FileChannel into, StringBuilder text) throws IOException {
    ByteBuffer bytes = ByteBuffer.wrap(text.toString().getBytes(StandardCharsets.ISO_8859_1));
    while (bytes.hasRemaining()) {
      into.write(bytes);
    }
  }

  @Override
  public void close() throws IOException {
    log.close();
  }
}

package stillwatch.ingest.door;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import stillwatch.ingest.intake.Sha256;

/**
 * How far a table has been read, on disk: the newest time that was taken, and which rows from the
 * window before it on were, so that late ones are told from those. A line that a power cut has torn
 * is left out. Not thread-safe.
 */
final class TakenRows implements AutoCloseable {
  private static final int SPARE_LINES = 20_000;
  private static final Pattern LINE =
      Pattern.compile("([0-9]{1,18}) ([0-9]{1,18}) ([0-9a-f]{16}) \\.");

  private final long fromMs;
  private final long windowMs;
  private final NavigableMap<Long, Set<Long>> rows = new TreeMap<>();
  private final LineLog log;
  private long newestMs;
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
      byte[] digest = Sha256.digest().digest(text.getBytes(StandardCharsets.UTF_8));
      return ByteBuffer.wrap(digest).getLong();
    }
  }

  private TakenRows(Path file, long fromMs, long windowMs) throws IOException {
    this.fromMs = fromMs;
    this.windowMs = windowMs;
    newestMs = fromMs;
    for (String line : LineLog.read(file)) {
      Matcher m = LINE.matcher(line);
      if (m.matches()) {
        newestMs = Long.parseLong(m.group(1));
        keep(Long.parseLong(m.group(2)), Long.parseUnsignedLong(m.group(3), 16));
      }
    }
    forgetOld();
    log = LineLog.begin(file, written());
  }

  /**
   * Opens them.
   *
   * @param file holds them; made, with its folder, where there is none
   * @param fromMs the earliest time that is ever wanted, ms since 1970 UTC
   * @param window how far back rows are remembered
   */
  static TakenRows open(Path file, long fromMs, Duration window) throws IOException {
    WholeFile.makeFolder(file);
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
    log.add(text);
    forgetOld();
    lines += taken.size();
    if (lines > 2 * kept + SPARE_LINES) {
      log.renew(written());
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

  /** All of them as lines. */
  private CharSequence written() {
    StringBuilder text = new StringBuilder();
    line(text, 0, 0); // how far, where no row is remembered
    rows.forEach((atMs, hashes) -> hashes.forEach(hash -> line(text, atMs, hash)));
    lines = kept;
    return text;
  }

  @Override
  public void close() throws IOException {
    log.close();
  }
}

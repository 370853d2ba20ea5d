package stillwatch.ingest.disk;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.util.Locale;
import java.util.Optional;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The disk of a data folder. It holds a file in reserve; when the disk is full, that is given up,
 * so that what matters most can still be written, and telemetry is to be refused until there is
 * room for the reserve again. {@link #look()} from one thread, the rest from any.
 */
public final class Disk {
  private static final Logger LOG = LoggerFactory.getLogger(Disk.class);
  private static final long MOST_BYTES = 32L << 20;
  private static final long LEAST_BYTES = 1L << 20;
  private static final int SHARE = 20;
  private static final int CHUNK = 1 << 20;

  private final Path folder;
  private final Path reserve;
  private final long size;
  private final LongSupplier steadyMs;
  private final Growth growth = new Growth();
  private volatile DiskSpace space = new DiskSpace(0, 0);
  private volatile Optional<Duration> left = Optional.empty();
  private volatile Optional<String> full = Optional.empty();

  /**
   * The disk of this folder, looked at once.
   *
   * @param steadyMs a clock that nobody sets, ms
   * @throws IOException when it cannot be asked for its room
   */
  public Disk(Path folder, LongSupplier steadyMs) throws IOException {
    this.folder = folder;
    this.steadyMs = steadyMs;
    reserve = folder.resolve("reserve");
    DiskSpace first = DiskSpace.of(folder);
    long all = first.usedBytes() + first.freeBytes();
    size = Math.max(LEAST_BYTES, Math.min(MOST_BYTES, all / SHARE));
    look();
  }

  /** Measures, and gives the reserve up or takes it again. */
  public void look() {
    try {
      DiskSpace now = DiskSpace.of(folder);
      growth.take(steadyMs.getAsLong(), now.freeBytes());
      left = growth.left();
      space = now;
      judge(now);
    } catch (IOException e) {
      becomes(
          Optional.of(
              "The disk of "
                  + folder
                  + " cannot be asked for its room ("
                  + e.getMessage()
                  + "): no telemetry is taken."));
    }
  }

  private void judge(DiskSpace now) throws IOException {
    boolean held = Files.exists(reserve) && Files.size(reserve) >= size;
    boolean roomy = held ? now.freeBytes() >= size / 4 : now.freeBytes() >= size * 2 && hold();
    if (!roomy) {
      Files.deleteIfExists(reserve);
    }
    becomes(
        roomy
            ? Optional.empty()
            : Optional.of(
                "The disk of "
                    + folder
                    + " is full: no telemetry is taken until "
                    + mega(size * 2)
                    + " are free ("
                    + mega(DiskSpace.of(folder).freeBytes())
                    + " now)."));
  }

  private void becomes(Optional<String> now) {
    if (now.isPresent() != full.isPresent()) {
      if (now.isPresent()) {
        LOG.error("{}", now.get());
      } else {
        LOG.info("the disk of {} has room again", folder);
      }
    }
    full = now;
  }

  /** Writes the reserve, every byte of it: a file with holes would keep nothing back. */
  private boolean hold() {
    try (FileChannel file =
        FileChannel.open(
            reserve,
            StandardOpenOption.CREATE,
            StandardOpenOption.TRUNCATE_EXISTING,
            StandardOpenOption.WRITE)) {
      ByteBuffer zeros = ByteBuffer.allocate(CHUNK);
      while (file.position() < size) {
        file.write(zeros.clear());
      }
      file.force(false);
      return true;
    } catch (IOException e) {
      LOG.debug("the reserve cannot be written", e);
      return false;
    }
  }

  private static String mega(long bytes) {
    return String.format(Locale.ROOT, "%.1f MB", bytes / 1e6);
  }

  /** How full it is. */
  public DiskSpace space() {
    return space;
  }

  /** How long the room lasts at the rate of the last half hour; empty while it does not fill. */
  public Optional<Duration> left() {
    return left;
  }

  /**
   * Says in a sentence that the disk is full and what is therefore not done; empty while there is
   * room.
   */
  public Optional<String> full() {
    return full;
  }
}

package stillwatch.station.run;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.journal.PrivateFiles;
import stillwatch.station.option.InputException;

/**
 * The folder of one watch, held against any other for as long as this process lives: two brokers on
 * one folder destroy each other's log.
 */
public final class DataFolder implements AutoCloseable {
  private final Path folder;
  private final FileChannel channel;

  private DataFolder(Path folder, FileChannel channel) {
    this.folder = folder;
    this.channel = channel;
  }

  /** Takes the folder that {@code --data} names. */
  public static DataFolder take(Path folder) {
    return take(folder, "--data");
  }

  /**
   * Takes the folder, and makes it where there is none.
   *
   * @param option the option that names it
   * @throws InputException when it cannot be made or another watch has it
   */
  public static DataFolder take(Path folder, String option) {
    if (folder.toString().isBlank()) {
      throw new InputException("%s: names no folder; give one".formatted(option));
    }
    FileChannel channel = open(folder, option);
    if (lock(channel) == null) {
      throw new InputException(
          "%s: another watch is running on this folder; stop it, or give another with %s"
              .formatted(folder, option));
    }
    return new DataFolder(folder, channel);
  }

  private static FileChannel open(Path folder, String option) {
    try {
      PrivateFiles.folder(folder);
      return FileChannel.open(
          folder.resolve("in-use"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
    } catch (IOException e) {
      throw new InputException(
          "%s: cannot be made a folder for the data (%s); give another with %s"
              .formatted(folder, e.getMessage(), option));
    }
  }

  private static @Nullable FileLock lock(FileChannel channel) {
    try {
      return channel.tryLock();
    } catch (IOException | OverlappingFileLockException e) {
      return null;
    }
  }

  /** Where it is. */
  public Path path() {
    return folder;
  }

  @Override
  public void close() throws IOException {
    channel.close();
  }
}

package stillwatch.ingest.disk;

import java.io.IOException;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * How much of a disk is taken.
 *
 * @param usedBytes what is taken
 * @param freeBytes what this process may still write; what the disk keeps for its administrator is
 *     in neither
 */
public record DiskSpace(long usedBytes, long freeBytes) {
  /** Asks the disk on which this folder lies. */
  static DiskSpace of(Path folder) throws IOException {
    FileStore store = Files.getFileStore(folder);
    return new DiskSpace(
        store.getTotalSpace() - store.getUnallocatedSpace(), store.getUsableSpace());
  }

  /** The share that is taken, 0 to 1. */
  public double usedShare() {
    long all = usedBytes + freeBytes;
    return all == 0 ? 1 : (double) usedBytes / all;
  }
}

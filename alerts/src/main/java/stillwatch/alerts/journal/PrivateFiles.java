package stillwatch.alerts.journal;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Set;

/**
 * Files and folders that only the user who runs the watch can read: 0600 and 0700. Where the file
 * system knows no such rights, the folder's own hold.
 */
public final class PrivateFiles {
  private static final Set<PosixFilePermission> FOLDER =
      PosixFilePermissions.fromString("rwx------");
  private static final Set<PosixFilePermission> FILE = PosixFilePermissions.fromString("rw-------");

  private PrivateFiles() {}

  private static FileAttribute<?>[] rights(Set<PosixFilePermission> which) {
    return FileSystems.getDefault().supportedFileAttributeViews().contains("posix")
        ? new FileAttribute<?>[] {PosixFilePermissions.asFileAttribute(which)}
        : new FileAttribute<?>[0];
  }

  /**
   * Makes the folder, and those above it, where there is none; one that is there stays as it is.
   */
  public static void folder(Path folder) throws IOException {
    if (!Files.isDirectory(folder)) {
      Files.createDirectories(folder, rights(FOLDER));
    }
  }

  /** Makes the file, empty, where there is none; takes the rights of others from one that is. */
  public static void file(Path file) throws IOException {
    try {
      Files.createFile(file, rights(FILE));
    } catch (FileAlreadyExistsException e) {
      if (rights(FILE).length > 0) {
        Files.setPosixFilePermissions(file, FILE);
      }
    }
  }
}

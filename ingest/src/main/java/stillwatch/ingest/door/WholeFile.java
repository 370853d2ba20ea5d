package stillwatch.ingest.door;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;

/** A file that is there whole or as it was before, whenever the process ends. */
public final class WholeFile {
  private WholeFile() {}

  /** The file's folder is there when this returns. */
  public static void makeFolder(Path file) throws IOException {
    Path folder = file.getParent();
    if (folder != null) {
      Files.createDirectories(folder);
    }
  }

  /** Writes it anew; returns when the disk has it. */
  public static void write(Path file, byte[] content) throws IOException {
    Path fresh = file.resolveSibling(file.getFileName() + ".new");
    try (FileChannel into =
        FileChannel.open(
            fresh,
            StandardOpenOption.CREATE,
            StandardOpenOption.TRUNCATE_EXISTING,
            StandardOpenOption.WRITE)) {
      write(into, content);
      into.force(true);
    }
    Files.move(fresh, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
  }

  static void write(FileChannel into, byte[] content) throws IOException {
    ByteBuffer bytes = ByteBuffer.wrap(content);
    while (bytes.hasRemaining()) {
      into.write(bytes);
    }
  }
}

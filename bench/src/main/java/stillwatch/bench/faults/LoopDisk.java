package stillwatch.bench.faults;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/** A file system of its own in a file, which can be filled, held and write-protected. */
final class LoopDisk implements AutoCloseable {
  private final Path folder;

  private LoopDisk(Path folder) {
    this.folder = folder;
  }

  /**
   * Mounts one.
   *
   * @throws IOException when that is not allowed here; the message says what the system said
   */
  static LoopDisk mount(Path image, Path folder) throws IOException, InterruptedException {
    Files.createDirectories(folder);
    run("truncate", "-s", "300M", image.toString());
    run("mkfs.ext4", "-q", "-F", "-m", "0", image.toString());
    run("mount", "-o", "loop", image.toString(), folder.toString());
    return new LoopDisk(folder);
  }

  Path folder() {
    return folder;
  }

  private static void run(String... line) throws IOException, InterruptedException {
    Process process = new ProcessBuilder(line).redirectErrorStream(true).start();
    String said =
        new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8).strip();
    if (process.waitFor() != 0) {
      throw new IOException(String.join(" ", line) + ": " + said);
    }
  }

  /** Fills it to the last byte. */
  void fill() throws IOException {
    for (int size : new int[] {1 << 20, 4096, 1}) {
      try (OutputStream filler =
          Files.newOutputStream(
              folder.resolve("filler"), StandardOpenOption.CREATE, StandardOpenOption.APPEND)) {
        byte[] chunk = new byte[size];
        for (int i = 0; i < 4096; i++) {
          filler.write(chunk);
        }
      } catch (IOException e) {
        if (!String.valueOf(e.getMessage()).contains("No space left")) {
          throw e;
        }
      }
    }
  }

  /** Gives back what was filled. */
  void free() throws IOException {
    Files.deleteIfExists(folder.resolve("filler"));
  }

  /** Lets every write wait, or go on. */
  void hold(boolean held) throws IOException, InterruptedException {
    run("fsfreeze", held ? "-f" : "-u", folder.toString());
  }

  /** Refuses every write to what is there, and every new file. */
  void protect(boolean on) throws IOException, InterruptedException {
    run("chattr", "-R", "-f", on ? "+i" : "-i", folder.resolve("data").toString());
  }

  @Override
  public void close() throws IOException {
    try {
      run("umount", "-l", folder.toString());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}

package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/** A file system of its own, small enough to be filled; where mounting is not allowed, a skip. */
record SmallDisk(Path folder) implements AutoCloseable {
  private static final int CHUNK = 1 << 20;
  private static final int BLOCK = 4096;

  /** One in memory. */
  static SmallDisk mount(Path folder) throws IOException, InterruptedException {
    return mount(folder, "-t", "tmpfs", "-o", "size=200m", "tmpfs");
  }

  /** One in this file, made anew where it is empty. */
  static SmallDisk mountImage(Path image, Path folder) throws IOException, InterruptedException {
    if (!Files.exists(image)) {
      run("truncate", "-s", "200M", image.toString());
      String made = run("mkfs.ext4", "-q", "-F", image.toString());
      assumeTrue(made.isEmpty(), () -> "no ext4 can be made here: " + made);
    }
    return mount(folder, "-o", "loop", image.toString());
  }

  private static SmallDisk mount(Path folder, String... what)
      throws IOException, InterruptedException {
    Files.createDirectories(folder);
    String[] line = new String[what.length + 2];
    line[0] = "mount";
    System.arraycopy(what, 0, line, 1, what.length);
    line[line.length - 1] = folder.toString();
    String said = run(line);
    assumeTrue(said.isEmpty(), () -> "nothing can be mounted here: " + said);
    return new SmallDisk(folder);
  }

  /** What the command complains of; empty when it succeeded. */
  private static String run(String... line) throws InterruptedException {
    try {
      Process process = new ProcessBuilder(line).redirectErrorStream(true).start();
      String said =
          new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8).strip();
      return process.waitFor() == 0 ? "" : "exit " + process.exitValue() + " " + said;
    } catch (IOException e) {
      return String.valueOf(e.getMessage());
    }
  }

  /** Fills it to the last byte. */
  void fill() throws IOException {
    fill(CHUNK, Integer.MAX_VALUE);
    fill(BLOCK, CHUNK / BLOCK);
    fill(1, BLOCK);
  }

  private void fill(int size, int times) throws IOException {
    try (OutputStream filler =
        Files.newOutputStream(
            folder.resolve("filler"), StandardOpenOption.CREATE, StandardOpenOption.APPEND)) {
      for (int i = 0; i < times; i++) {
        filler.write(new byte[size]);
      }
    } catch (IOException e) {
      assertThat(e).hasMessageContaining("No space left");
    }
  }

  /** Gives back what was filled. */
  void free() throws IOException {
    Files.delete(folder.resolve("filler"));
  }

  @Override
  public void close() throws InterruptedException {
    assertThat(run("umount", "-l", folder.toString())).isEmpty();
  }
}

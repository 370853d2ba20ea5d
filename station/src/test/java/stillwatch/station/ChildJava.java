package stillwatch.station;

import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.List;
import java.util.spi.ToolProvider;
import java.util.stream.Stream;

/**
 * How tests start Java. Such a process lives for seconds and spends most of them on its classes:
 * they are read, checked and kept once, in an archive that every process maps into memory (JEP
 * 350). Java makes one of jars only, so folders of classes are packed; where the archive does not
 * fit, Java starts without.
 */
final class ChildJava {
  /** What Java says on standard error when its options come from the environment. */
  static final String NOTE = "Picked up JAVA_TOOL_OPTIONS";

  private static final Path KEPT = Path.of("target/child").toAbsolutePath();
  private static final Path ARCHIVE = KEPT.resolve("java-" + Runtime.version().feature() + ".jsa");
  private static final String CLASSES = prepared();

  private ChildJava() {}

  /** A process that runs this class; its own broker takes the archive from the environment. */
  static ProcessBuilder running(String main, List<String> arguments) {
    ProcessBuilder builder = builder(CLASSES, main, arguments);
    // what Java says of an archive that does not fit is nobody's output
    builder
        .environment()
        .put("JAVA_TOOL_OPTIONS", "-XX:SharedArchiveFile=" + ARCHIVE + " -Xlog:disable");
    return builder;
  }

  private static ProcessBuilder builder(String classes, String main, List<String> arguments) {
    List<String> line = new ArrayList<>();
    line.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    line.add("-XX:TieredStopAtLevel=1"); // too short a life for the second compiler
    line.addAll(List.of("-XX:+UseSerialGC", "-cp", classes, main));
    line.addAll(arguments);
    return new ProcessBuilder(line);
  }

  /** The class path of jars, and the archive where none is as new as every class. */
  private static String prepared() {
    List<Path> given =
        Stream.of(
                System.getProperty(
                        "surefire.test.class.path", System.getProperty("java.class.path"))
                    .split(File.pathSeparator))
            .map(Path::of)
            .filter(Files::exists)
            .toList();
    String classes =
        String.join(File.pathSeparator, given.stream().map(e -> packed(e).toString()).toList());
    try {
      Files.createDirectories(KEPT);
      try (FileChannel channel =
              FileChannel.open(
                  KEPT.resolve("lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
          FileLock alone = channel.lock()) { // another test process waits, and finds all made
        if (!Files.exists(ARCHIVE) || changed(ARCHIVE).compareTo(newest(given)) < 0) {
          given.stream().filter(Files::isDirectory).forEach(ChildJava::pack);
          keep(classes);
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException("no Java for the processes of tests", e);
    }
    return classes;
  }

  private static Path packed(Path entry) {
    Path whole = entry.toAbsolutePath().normalize();
    return Files.isDirectory(entry)
        ? KEPT.resolve(whole.toString().replaceAll("[^A-Za-z0-9]+", "-") + ".jar")
        : whole;
  }

  private static void pack(Path folder) {
    String jar = packed(folder).toString();
    ToolProvider tool = ToolProvider.findFirst("jar").orElseThrow();
    String[] line = {"--create", "--no-compress", "--file", jar, "-C", folder.toString(), "."};
    if (tool.run(System.out, System.err, line) != 0) {
      throw new IllegalStateException("cannot pack " + folder);
    }
  }

  /** Has the program itself make the archive, as its launcher does. */
  private static void keep(String classes) throws IOException {
    Path said = KEPT.resolve("said");
    ProcessBuilder builder = builder(classes, Main.class.getName(), List.of("prepare"));
    builder
        .environment()
        .put("JAVA_TOOL_OPTIONS", "-Dstillwatch.home=.. -Dstillwatch.archive=" + ARCHIVE);
    try {
      int exit = builder.redirectErrorStream(true).redirectOutput(said.toFile()).start().waitFor();
      if (exit != 0) {
        throw new IOException(Files.readString(said));
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private static FileTime newest(List<Path> given) throws IOException {
    FileTime newest = FileTime.fromMillis(0);
    for (Path entry : given) {
      try (Stream<Path> files = Files.walk(entry)) {
        FileTime here = files.map(ChildJava::changed).max(FileTime::compareTo).orElse(newest);
        newest = here.compareTo(newest) > 0 ? here : newest;
      }
    }
    return newest;
  }

  private static FileTime changed(Path file) {
    try {
      return Files.getLastModifiedTime(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

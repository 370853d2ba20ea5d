package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * How a command in a process of its own ended.
 *
 * @param exit its exit code
 * @param lines what it printed to standard error, without what libraries say
 */
record Outcome(int exit, List<String> lines) {
  /** A process that lives for seconds is not worth the second compiler. */
  static final List<String> QUICK_START = List.of("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC");

  /** Runs a command that must be refused, in one sentence; gives that. */
  static String refused(String... arguments) throws IOException, InterruptedException {
    Outcome outcome = of(arguments);
    assertThat(outcome.exit()).isEqualTo(2);
    assertThat(outcome.lines()).hasSize(1);
    return outcome.lines().get(0);
  }

  /** Runs a command to its end; it must show nobody its inside. */
  static Outcome of(String... arguments) throws IOException, InterruptedException {
    List<String> line = new ArrayList<>();
    line.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    line.addAll(QUICK_START);
    line.add("-cp");
    line.add(System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")));
    line.add("stillwatch.station.Main");
    line.addAll(List.of(arguments));
    File err = File.createTempFile("stderr", ".txt");
    Process process =
        new ProcessBuilder(line)
            .redirectError(err)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    int exit = process.waitFor();
    List<String> lines =
        Files.readAllLines(err.toPath(), StandardCharsets.UTF_8).stream()
            .filter(l -> !l.isBlank() && !l.startsWith("SLF4J") && !l.startsWith("WARNING:"))
            .toList();
    assertThat(err.delete()).isTrue();
    assertThat(lines).noneMatch(l -> l.contains("\tat ") || l.contains("Exception"));
    return new Outcome(exit, lines);
  }
}

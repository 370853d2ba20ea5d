package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.File;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.List;
import java.util.stream.Stream;

/**
 * How a command ended.
 *
 * @param exit its exit code
 * @param lines what it printed to standard error, without what libraries say
 */
record Outcome(int exit, List<String> lines) {
  /** Runs a command that must be refused, in one sentence; gives that. */
  static String refused(String... arguments) throws IOException, InterruptedException {
    return of(arguments).refusal();
  }

  /** The one sentence of a command that was refused. */
  String refusal() {
    assertThat(exit).isEqualTo(2);
    assertThat(lines).hasSize(1);
    return lines.get(0);
  }

  /**
   * Runs a command to its end in this process, where another case of the same command is run in one
   * of its own.
   */
  static Outcome inside(String... arguments) {
    PrintStream before = System.err;
    ByteArrayOutputStream said = new ByteArrayOutputStream();
    System.setErr(new PrintStream(said, true, StandardCharsets.UTF_8));
    try {
      int exit = Main.run(arguments);
      return told(exit, said.toString(StandardCharsets.UTF_8).lines());
    } finally {
      System.setErr(before);
    }
  }

  /** Runs a command to its end; it must show nobody its inside. */
  static Outcome of(String... arguments) throws IOException, InterruptedException {
    File err = File.createTempFile("stderr", ".txt");
    Process process =
        ChildJava.running("stillwatch.station.Main", List.of(arguments))
            .redirectError(err)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    int exit = process.waitFor();
    try (Stream<String> lines = Files.lines(err.toPath(), StandardCharsets.UTF_8)) {
      return told(exit, lines);
    } finally {
      assertThat(err.delete()).isTrue();
    }
  }

  private static Outcome told(int exit, Stream<String> said) {
    List<String> lines =
        said.filter(l -> !l.isBlank() && !l.startsWith("SLF4J") && !l.startsWith("WARNING:"))
            .filter(l -> !l.startsWith(ChildJava.NOTE))
            .toList();
    assertThat(lines).noneMatch(l -> l.contains("\tat ") || l.contains("Exception"));
    return new Outcome(exit, lines);
  }
}
